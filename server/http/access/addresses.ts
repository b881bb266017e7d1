/** Which machine is asking, and under which addresses others find this one. */
import { hostname, networkInterfaces } from 'node:os';
import { hostnameOf, LOOPBACK } from '../guard.ts';

/** This machine, as its own network names it. */
const OWN = new Set(['127.0.0.1', '::1', '::ffff:127.0.0.1']);
/** Whoever comes by way of another program says so: then it is not known from where. */
const FORWARDED = ['forwarded', 'x-forwarded-for', 'x-forwarded-host', 'x-real-ip', 'via'];

/**
 * Whether a request comes from a person or a program at this very computer: from its loopback address, and
 * where others are let in also under a name that means it. A program that hands on what others ask lends
 * its address; it says so, or brings their name.
 */
export function isHere(
  address: string | undefined,
  headers: Readonly<Record<string, string | string[] | undefined>>,
  names: ReadonlySet<string>,
): boolean {
  if (address === undefined || !OWN.has(address)) return false;
  if (FORWARDED.some((name) => headers[name] !== undefined)) return false;
  const { host } = headers;
  const name = typeof host === 'string' ? hostnameOf(host) : null;
  return name !== null && names.has(name);
}

/** An address as it is compared and shown: that of IPv4 in its own form. */
export const plainAddress = (address: string | undefined): string =>
  (address ?? '').replace(/^::ffff:/, '');

/** The names that mean this computer where others are let in. */
export const HERE_NAMES: ReadonlySet<string> = new Set(LOOPBACK);

/** Not reachable from outside without more: those of IPv6 that hold on one line only. */
const isLinkLocal = (address: string): boolean => /^(fe80:|169\.254\.)/i.test(address);

/**
 * Addresses by which other machines reach this one: numbers first, since they always work, then its name.
 * @param listen what the server listens on: on "0.0.0.0" nobody reaches it by IPv6
 */
export function lanUrls(scheme: 'http' | 'https', port: number, listen: string): string[] {
  const addresses = Object.values(networkInterfaces())
    .flatMap((list) => list ?? [])
    .filter(({ internal, address }) => !internal && !isLinkLocal(address))
    .filter(({ family }) => family === 'IPv4' || listen !== '0.0.0.0')
    .sort((a, b) => a.family.localeCompare(b.family))
    .map(({ family, address }) => (family === 'IPv6' ? `[${address}]` : address));
  const name = hostname()
    .toLowerCase()
    .replace(/\.local$/, '');
  return [...addresses, `${name}.local`].map((host) => `${scheme}://${host}:${port}`);
}
