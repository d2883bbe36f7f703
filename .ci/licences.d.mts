export function shipped(lock: { packages: Record<string, object> }): string[]
