import { type NetworkInterfaceInfo, networkInterfaces } from 'node:os';

/** Addresses of this machine in networks, likely home or hall networks first; neither loopback nor link-local. */
export function networkAddresses(
  interfaces: Partial<Record<string, readonly NetworkInterfaceInfo[]>> = networkInterfaces(),
): string[] {
  const all = Object.values(interfaces).flatMap((list) => list ?? []);
  const usable = all.filter(
    ({ internal, family, address }) => !internal && family === 'IPv4' && !address.startsWith('169.254.'),
  );
  const rank = ({ address }: { address: string }) => (isPrivate(address) ? 0 : 1);
  return [...new Set(usable.sort((a, b) => rank(a) - rank(b)).map(({ address }) => address))];
}

/** Whether an address belongs to a private network, RFC 1918. */
export const isPrivate = (address: string): boolean =>
  /^(?:10\.|192\.168\.|172\.(?:1[6-9]|2\d|3[01])\.)/.test(address);
