import { formatDay } from '../quantities/formatting.ts'
import { daysOf, type IsoWeek } from '../quantities/iso-week.ts'
import { type Called, plantingNames } from '../seasons/planting-names.ts'
import { catalogue } from '../words/catalogue.ts'
import { taskNames } from './tasks.ts'

interface SheetRows {
  readonly week: IsoWeek
  readonly locale: string
  readonly gardens: readonly { readonly id: string; readonly name: string }[]
  /** In the order of the garden. */
  readonly beds: readonly { readonly id: string; readonly gardenId: string; readonly name: string }[]
  readonly plantings: readonly Called[]
  /** Labels by planting that are not opened yet: the sheet has a line for the label and none for its planting. */
  readonly sealed: ReadonlyMap<string, string>
}

/** How many gardens stand side by side in the table of hours, so that it is no wider than A4. */
const gardensAbreast = 5

/** The week's form: gardens as they are walked, what stands in their beds, and the tasks by garden. */
export function sheetPage({ week, locale, gardens, beds, plantings, sealed }: SheetRows) {
  const days = daysOf(week)
  const [monday, sunday] = [days[0] ?? '', days[6] ?? '']
  const names = plantingNames(plantings, locale)
  const standing = plantings.filter(
    (one) => (one.sownOn ?? one.plantedOn ?? sunday) <= sunday && (one.clearedOn === null || one.clearedOn >= monday),
  )
  const inGarden = (gardenId: string) =>
    beds
      .filter((bed) => bed.gardenId === gardenId)
      .flatMap((bed) =>
        standing
          .filter((one) => one.bedId === bed.id)
          .map((one) => ({ id: one.id, name: `${names.get(one.id)} · ${bed.name}` })),
      )
  const rows = gardens.map(({ id, name }) => {
    const here = inGarden(id)
    const byName = here.filter((one) => !sealed.has(one.id))
    return { id, name, plantings: byName, onlyLabels: here.length > 0 && byName.length === 0 }
  })
  return {
    week,
    from: formatDay(monday, locale),
    to: formatDay(sunday, locale),
    gardens: rows,
    labels: [...sealed.values()].sort(),
    abreast: inRuns(gardens, gardensAbreast),
    tasks: taskNames.map((task) => ({ task, name: catalogue.diary.tasks[task] })),
    /** What a loss can be of: whatever stands, in the order of the walk. */
    lossChoices: gardens.flatMap(({ id, name }) =>
      inGarden(id).map((one) => ({ value: one.id, label: `${one.name} · ${name}` })),
    ),
    days: days.map((day) => ({ value: day, label: formatDay(day, locale) })),
    blankLines: [1, 2, 3],
  }
}

function inRuns<T>(list: readonly T[], most: number): T[][] {
  const runs = Math.ceil(list.length / most)
  return Array.from({ length: runs }, (_, run) => list.slice(run * most, (run + 1) * most))
}

export type WrongCells = Readonly<Record<string, string>>

/** What was typed in a cell and what is wrong with it, by its name in the form. */
export function typedSheet(typed: Readonly<Record<string, unknown>>, wrong: WrongCells) {
  return (label: string, ...path: readonly [string, ...string[]]) => {
    const [first, ...rest] = path
    const name = `${first}${rest.map((step) => `[${step}]`).join('')}`
    const value = path.reduce<unknown>(
      (at, step) => (typeof at === 'object' && at !== null ? (at as Record<string, unknown>)[step] : undefined),
      typed,
    )
    const error = wrong[name]
    return {
      name,
      label,
      value: typeof value === 'string' ? value : '',
      error,
      errorId: error ? `wrong-${path.join('-').replace(/[^\w-]/g, '-')}` : undefined,
    }
  }
}
