/** Version of the computing core; a stored result carries it. */
export const CORE_VERSION = '0.1.0';
