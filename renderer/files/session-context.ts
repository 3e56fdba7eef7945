import { createContext, useContext } from "react";
import type { Session } from "./session.ts";

export const SessionContext = createContext<Session | null>(null);

export function useSession(): Session {
  const session = useContext(SessionContext);
  if (!session) throw new Error("a component that needs the session stands outside of it");
  return session;
}
