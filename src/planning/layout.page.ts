import { asShown, nameIfAny } from '../lookups/unsaid.ts'
import { formatNumber } from '../quantities/formatting.ts'
import { type How, type Layout, readLayout } from '../seasons/layout.ts'
import { smallestDetectable } from '../statistics/smallest-detectable.ts'
import { catalogue } from '../words/catalogue.ts'
import type { AssignmentRow, LayoutRows } from './laying.ts'

/** A layout as codes and figures: its sentences stand in the catalogue. */
interface LayoutSaid {
  readonly kind: Layout['kind']
  readonly scope: Layout['scope']
  readonly how: How
  readonly df: number | null
  readonly units: readonly { readonly method: string; readonly count: number }[]
  readonly alone: readonly string[]
  /** The fewest units that a method has. */
  readonly fewest: number
  /**
   * The smallest ratio that one season would often show, under the spread that is stated beside it; null where none can
   * be.
   */
  readonly smallest: string | null
}

export function layoutSaidOf(rows: LayoutRows, laid: readonly AssignmentRow[], locale: string): LayoutSaid {
  const layout = readLayout(rows, laid)
  const name = (id: string) => nameIfAny(rows.methods.find((one) => one.id === id))
  const counts = [...layout.units.values()]
  return {
    kind: layout.kind,
    scope: layout.scope,
    how: layout.how,
    df: layout.df,
    units: rows.methods.flatMap((one) => {
      const count = layout.units.get(one.id)
      return count === undefined ? [] : [{ method: one.name, count }]
    }),
    alone: layout.alone.map(name),
    fewest: counts.length === 0 ? 0 : Math.min(...counts),
    smallest: smallestOf(layout, locale),
  }
}

/**
 * Spread on the log scale between units of one method in one season: gardens 0.20, garden and season 0.12, and over
 * eight matched crops 0.25 for crop and garden and 0.25 for the rest. Assumed, and said so on the page: a group's own
 * figures differ.
 */
const crops = 8
const ofCrops = (0.25 ** 2 + 0.25 ** 2) / crops
const spreadOf = {
  garden: Math.sqrt(0.2 ** 2 + 0.12 ** 2 + ofCrops),
  within: Math.sqrt(2 * ofCrops),
  bed: Math.sqrt(ofCrops),
}

function smallestOf(layout: Layout, locale: string): string | null {
  const counts = [...layout.units.values()]
  const n = Math.min(...counts)
  if (layout.df === null || n < 2) return null
  const paired = layout.kind === 'split gardens' || layout.kind === 'blocks of beds'
  const sd = paired ? spreadOf.within : layout.unit === 'bed' ? spreadOf.bed : spreadOf.garden
  const found = smallestDetectable({ n, sd, power: 0.8, paired })
  return found.kind === 'answer' ? formatNumber(Math.exp(found.difference), locale, 2) : null
}

/** One line of the list that is kept or printed. */
interface LineLaid {
  readonly garden: string
  readonly bed: string | null
  readonly method: string
  readonly year: string
  readonly phase: string
  readonly how: string
  readonly seed: string | null
}

export function layoutLines(rows: LayoutRows, laid: readonly AssignmentRow[]): LineLaid[] {
  const name = (list: readonly { id: string; name: string }[], id: string | null) =>
    nameIfAny(list.find((one) => one.id === id))
  return rows.gardens.flatMap((garden) => {
    const own = laid.filter((one) => one.gardenId === garden.id)
    const beds = rows.beds.flatMap((bed) => own.filter((one) => one.bedId === bed.id))
    return [...own.filter((one) => one.bedId === null), ...beds].map((one) => ({
      garden: garden.name,
      bed: one.bedId === null ? null : name(rows.beds, one.bedId),
      method: name(rows.methods, one.methodId),
      year: String(one.yearOfMethod),
      phase: one.phase,
      how: one.how,
      seed: one.randomSeed,
    }))
  })
}

/** One place of the table that a layout is made in: what lies there, and what was typed for it. */
interface PlaceShown {
  readonly id: string
  readonly name: string
  /** With its garden. */
  readonly called: string
  readonly ticked: boolean
  readonly stands: { readonly method: string; readonly how: string }
  readonly method: string
  readonly choices: readonly { value: string; label: string }[]
  readonly since: string
  /** The name of its block; null for a garden. */
  readonly block: string | null
}

interface TypedInTable {
  readonly places: readonly string[]
  readonly to: ReadonlyMap<string, string> | null
  readonly since: ReadonlyMap<string, number>
}

/** Every garden with its beds below it, as it lies and as it was typed. */
export function tableOf(rows: LayoutRows & { readonly blocks: readonly Named[] }, typed: TypedInTable): PlaceShown[] {
  const words = catalogue.layout
  const methods = rows.methods.map(({ id, name }) => ({ value: id, label: name }))
  const line = (id: string, at: { gardenId: string; bedId: string | null }, names: [string, string]) => {
    const own = rows.assignments.find(
      (one) => one.seasonId === rows.seasonId && one.gardenId === at.gardenId && one.bedId === at.bedId,
    )
    const since = typed.since.get(id)
    const blank = { value: '', label: at.bedId === null ? words.fields.leave : words.asGarden }
    return {
      id,
      name: names[0],
      called: names[1],
      ticked: typed.places.includes(id),
      stands: { method: textIn(rows.methods, own?.methodId), how: own ? layingSaid(own) : '' },
      method: asShown(typed.to === null ? own?.methodId : typed.to.get(id)),
      choices: [blank, ...methods],
      since: since === undefined ? '' : String(since),
    }
  }
  return rows.gardens.flatMap((garden) => [
    { ...line(garden.id, { gardenId: garden.id, bedId: null }, [garden.name, garden.name]), block: null },
    ...rows.beds
      .filter((bed) => bed.gardenId === garden.id)
      .map((bed) => ({
        ...line(bed.id, { gardenId: garden.id, bedId: bed.id }, [bed.name, `${garden.name}, ${bed.name}`]),
        block: textIn(rows.blocks, bed.blockId),
      })),
  ])
}

interface Named {
  readonly id: string
  readonly name: string
}

const textIn = (list: readonly Named[], id: string | null | undefined) => nameIfAny(list.find((one) => one.id === id))

function layingSaid({ how, phase, yearOfMethod, randomSeed }: AssignmentRow): string {
  const { seasons, layout } = catalogue
  const chosen = asShown(seasons.hows[how as keyof typeof seasons.hows])
  return layout.laying(yearOfMethod, asShown(seasons.phases[phase as keyof typeof seasons.phases]), chosen, randomSeed)
}
