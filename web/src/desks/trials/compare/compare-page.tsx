export function ComparePage(_props: { first: string | undefined; second: string | undefined }) {
  return null;
}
