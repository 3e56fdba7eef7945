/**
 * Identifiers. Each is a string in the file and a type of its own in the code, so that a cable's id can't be
 * passed where a device's is meant. Ids survive renames; names never identify anything.
 */
declare const brand: unique symbol;
export type Brand<Base, Name extends string> = Base & { readonly [brand]: Name };

export type ShowId = Brand<string, "ShowId">;
export type PlaceId = Brand<string, "PlaceId">;
export type TypeId = Brand<string, "TypeId">;
export type ModeId = Brand<string, "ModeId">;
/** Names a jack bank, a link port or a section of the mix engine; unique within its device type. */
export type GroupId = Brand<string, "GroupId">;
export type DeviceId = Brand<string, "DeviceId">;
export type CableId = Brand<string, "CableId">;
export type SourceId = Brand<string, "SourceId">;
export type ChannelId = Brand<string, "ChannelId">;
export type MixId = Brand<string, "MixId">;
export type StreamId = Brand<string, "StreamId">;
export type WantId = Brand<string, "WantId">;
/** Outputs that should arrive together; a `GroupId` names a part of a device type. */
export type ArrivalGroupId = Brand<string, "ArrivalGroupId">;

/** Takes a string for the id that the context asks for. The one place where a brand is put on. */
export function id<T extends Brand<string, string>>(text: string): T {
  return text as T;
}
