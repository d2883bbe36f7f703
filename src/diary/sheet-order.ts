import { taskNames } from './tasks.ts'

interface Worked {
  readonly id: string
  readonly task: string
  readonly workedOn: string | null
}

/** Hours in the order of the sheet: garden by garden, task by task; what was done in several of them at the end. */
export function inSheetOrder<T extends Worked>(
  list: readonly T[],
  gardens: readonly { readonly id: string }[],
  gardenOf: (one: T) => string | undefined,
): T[] {
  const tasks: readonly string[] = taskNames
  const last = (at: number, of: number) => (at < 0 ? of : at)
  const garden = (one: T) =>
    last(
      gardens.findIndex(({ id }) => id === gardenOf(one)),
      gardens.length,
    )
  const task = (one: T) => last(tasks.indexOf(one.task), tasks.length)
  const key = (one: T) => `${one.workedOn === null ? '' : one.workedOn} ${one.id}`
  return [...list].sort((a, b) => garden(a) - garden(b) || task(a) - task(b) || (key(a) < key(b) ? -1 : 1))
}
