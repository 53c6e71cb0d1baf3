/** Says what is wrong in one message fit for the screen. */
export class FetchTrouble extends Error {}
export function cacheFolder(): string;
export interface Wanted {
  what: string;
  version: string;
  /** `sha512-` and the hash of the tarball in base64. */
  integrity: string;
  /** Of the tarball. */
  bytes: number;
  /** Which folder of the package is kept; all of it if empty. */
  folder: string;
  /** Dependencies to install there. */
  install?: string[];
}
export function fetched(name: string, packages?: Record<string, Wanted>): Promise<string>;
