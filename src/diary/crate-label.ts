import type { Chance } from '../statistics/chance-from.ts'

/** Letters and digits that are not taken for one another when they are written by hand on a wet crate. */
const letters = 'ABCDEFHJKLMNPRTUVWXY'
const digits = '2346789'

/** Before a label that stands for a planting in a choice: the planting's id would be in the page for all to see. */
export const underLabel = 'label:'

/** How many labels a week can have. */
export const mostLabels = letters.length ** 2 * digits.length

/** Labels of two letters and a digit, drawn by chance, none twice and none that is taken; fewer where none is left. */
export function drawLabels(count: number, taken: ReadonlySet<string>, chance: Chance): string[] {
  const drawn = new Set<string>()
  const one = (of: string) => of.charAt(chance.below(of.length))
  while (drawn.size < Math.min(count, mostLabels - taken.size)) {
    const label = `${one(letters)}${one(letters)}${one(digits)}`
    if (!taken.has(label)) drawn.add(label)
  }
  return [...drawn]
}
