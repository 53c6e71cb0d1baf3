export function parserModule(text: string, path: string): string;
