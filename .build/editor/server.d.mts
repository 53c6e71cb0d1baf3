export function serverNode(): Promise<{ path: string } | { missing: string }>;
export function serverMain(): Promise<string>;
