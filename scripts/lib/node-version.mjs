/** Oldest Node that everything here runs on. */
export const NEEDED = [20, 19];

/** A sentence when this Node is too old, otherwise null. */
export function nodeTooOld(version = process.versions.node) {
  const [major, minor] = version.split('.').map(Number);
  const enough = major > NEEDED[0] || (major === NEEDED[0] && minor >= NEEDED[1]);
  return enough
    ? null
    : `Pourline needs Node ${NEEDED.join('.')} or newer; this is Node ${version}. Install a newer one from nodejs.org and start again.`;
}
