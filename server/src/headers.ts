/** What a page of ours may do: nothing but with what comes from this very server. */
const PAGE_POLICY = [
  "default-src 'self'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' blob: data:",
  "font-src 'self'",
  "connect-src 'self'",
  "worker-src 'self'",
  "manifest-src 'self'",
  "object-src 'none'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
  "form-action 'self'",
].join('; ');

/** For what somebody uploaded: it must not run, whatever it claims to be. */
export const UPLOAD_POLICY = "default-src 'none'; sandbox; frame-ancestors 'none'";

/** Sent with every answer. */
export const SECURITY_HEADERS: Readonly<Record<string, string>> = {
  'content-security-policy': PAGE_POLICY,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'permissions-policy':
    'accelerometer=(), camera=(self), display-capture=(), fullscreen=(self), geolocation=(), gyroscope=(), ' +
    'magnetometer=(), microphone=(self), midi=(), payment=(), screen-wake-lock=(self), serial=(self), usb=()',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'x-frame-options': 'DENY',
};
