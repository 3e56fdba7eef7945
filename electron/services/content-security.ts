/** What pages may do, the same in both hosts. */

/**
 * Scripts come from the app's own files only, and there is no eval. Styles may stand inline, since the libraries that
 * place menus and toasts write style elements; without script an inline style can't reach anything: pictures and fonts
 * come from the app or from the page's own data, and nothing is fetched from elsewhere.
 */
export const APP_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "worker-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join("; ");

/** For a paper on its way to the printer: no script and no network, only what stands in the page itself. */
export const PAPER_POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; form-action 'none'";

/** Headers that go with every answer that a page gets. */
export const PAGE_HEADERS: Readonly<Record<string, string>> = {
  "Content-Security-Policy": APP_POLICY,
  "X-Content-Type-Options": "nosniff",
  "X-Frame-Options": "DENY",
  "Referrer-Policy": "no-referrer",
  "Cross-Origin-Opener-Policy": "same-origin",
  "Cross-Origin-Resource-Policy": "same-origin",
  "Permissions-Policy": "camera=(), microphone=(), geolocation=(), usb=(), serial=(), midi=()",
  "Cache-Control": "no-store",
};
