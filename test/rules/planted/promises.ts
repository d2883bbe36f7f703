/** Planted: the linter must see each of these three, or its rules on promises do not run. */
async function saved(): Promise<void> {}

export function forgotten(): void {
  saved()
}

export async function waitedForNothing(): Promise<number> {
  return await 3
}

export const misplaced = [1].filter(async () => true)
