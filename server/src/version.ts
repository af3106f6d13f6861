/** Version of the server; the same as in its package.json, which a test checks. */
export const SERVER_VERSION = '0.1.0';
