export function GrinderPage(_: { chosen: string | undefined }) {
  return null;
}
