import { formatNumber } from '../quantities/formatting.ts'
import { type How, type Layout, readLayout } from '../seasons/layout.ts'
import { yearOfMethod } from '../seasons/year-of-method.ts'
import { chanceFrom } from '../statistics/chance-from.ts'
import { seedOf } from '../statistics/seed-of.ts'
import { smallestDetectable } from '../statistics/smallest-detectable.ts'
import { deal, type Place, turn } from './deal.ts'

interface LayoutRows {
  readonly seasonId: string
  readonly seasons: readonly { id: string; name: string; startsOn: string }[]
  readonly methods: readonly { id: string; name: string }[]
  readonly gardens: readonly { id: string; name: string; siteId: string }[]
  readonly beds: readonly { id: string; gardenId: string; blockId: string | null; name: string }[]
  readonly assignments: readonly AssignmentRow[]
}

export interface AssignmentRow {
  readonly seasonId: string
  readonly gardenId: string
  readonly bedId: string | null
  readonly methodId: string
  readonly how: string
  readonly randomSeed: string | null
  readonly phase: string
  readonly yearOfMethod: number
}

type Way = 'by hand' | 'draw gardens' | 'draw beds' | 'draw blocks' | 'turn gardens'

interface Wanted {
  readonly way: Way
  readonly seed: string | null
  readonly methods: readonly string[]
  /** By hand: the method of a garden. */
  readonly to: ReadonlyMap<string, string>
  /** By hand: the year in which that method was begun there, of the calendar or counted. */
  readonly since: ReadonlyMap<string, number>
}

const howOf: Record<Way, How> = {
  'draw gardens': 'random',
  'draw beds': 'random',
  'draw blocks': 'random',
  'turn gardens': 'rotation',
  'by hand': 'choice',
}

/** The assignments that a way of laying out gives: for a draw the same ones for the same seed. */
export function laidBy(rows: LayoutRows, wanted: Wanted): AssignmentRow[] {
  const { way, seed } = wanted
  const methodIds = rows.methods.map((one) => one.id).filter((id) => wanted.methods.includes(id))
  const chosen = methodByPlace(rows, wanted, methodIds)
  const places = way === 'draw beds' || way === 'draw blocks' ? rows.beds : rows.gardens.map(asPlace)
  return places.flatMap((place) => {
    const methodId = chosen.get(place.id)
    if (!methodId || !rows.methods.some((one) => one.id === methodId)) return []
    const at = { gardenId: place.gardenId, bedId: place.id === place.gardenId ? null : place.id }
    const laid = { ...at, methodId, how: howOf[way], randomSeed: howOf[way] === 'random' ? seed : null }
    return [{ ...laid, ...ageOf(rows, at, methodId, wanted.since.get(place.id)), seasonId: rows.seasonId }]
  })
}

const asPlace = (garden: { id: string }) => ({ id: garden.id, gardenId: garden.id })

function methodByPlace(rows: LayoutRows, { way, seed, to }: Wanted, methodIds: readonly string[]) {
  if (way === 'by hand' || methodIds.length === 0) return to
  const gardens: Place[] = rows.gardens.map((garden) => ({ id: garden.id, holder: garden.siteId }))
  if (way === 'turn gardens') return turn(gardens, methodIds, lastMethods(rows))
  const chance = chanceFrom(seedOf(seed ?? ''))
  if (way === 'draw gardens') return deal(gardens, methodIds, chance)
  const holderOf = (bed: LayoutRows['beds'][number]) => (way === 'draw blocks' ? bed.blockId : bed.gardenId)
  const beds = rows.beds.map((bed) => ({ id: bed.id, holder: holderOf(bed) ?? bed.gardenId }))
  return deal(beds, methodIds, chance)
}

/** The method of each garden in the season before. */
function lastMethods(rows: LayoutRows): Map<string, string> {
  const before = seasonBefore(rows)
  const own = rows.assignments.filter((one) => one.seasonId === before && one.bedId === null)
  return new Map(own.map((one) => [one.gardenId, one.methodId]))
}

function seasonBefore({ seasons, seasonId }: LayoutRows): string | undefined {
  return seasons[seasons.findIndex((one) => one.id === seasonId) - 1]?.id
}

/** As it was said; otherwise a method that lay on this ground last season is a year older, and any other begins there. */
function ageOf(
  rows: LayoutRows,
  at: { gardenId: string; bedId: string | null },
  methodId: string,
  since: number | undefined,
) {
  if (since !== undefined) {
    const year = yearOfMethod(since, rows.seasons.find((one) => one.id === rows.seasonId)?.startsOn ?? '')
    return { phase: year === 1 ? 'establishing' : 'established', yearOfMethod: year }
  }
  const before = rows.assignments.filter((one) => one.seasonId === seasonBefore(rows) && one.gardenId === at.gardenId)
  const own = before.find((one) => one.bedId === at.bedId) ?? before.find((one) => one.bedId === null)
  if (own?.methodId !== methodId) return { phase: 'establishing', yearOfMethod: 1 }
  return { phase: own.phase, yearOfMethod: own.yearOfMethod + 1 }
}

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
  /** The smallest ratio that one season would often show, under the spread that is stated beside it; null where none can be. */
  readonly smallest: string | null
}

export function saidOf(rows: LayoutRows, laid: readonly AssignmentRow[], locale: string): LayoutSaid {
  const layout = readLayout(rows, laid)
  const name = (id: string) => rows.methods.find((one) => one.id === id)?.name ?? ''
  const counts = [...layout.units.values()]
  return {
    ...{ kind: layout.kind, scope: layout.scope, how: layout.how, df: layout.df },
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
 * Spread on the log scale between units of one method in one season: gardens 0.20, garden and season 0.12, and over eight
 * matched crops 0.25 for crop and garden and 0.25 for the rest. Assumed, and said so on the page: a group's own figures differ.
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

export function linesOf(rows: LayoutRows, laid: readonly AssignmentRow[]): LineLaid[] {
  const name = (list: readonly { id: string; name: string }[], id: string | null) =>
    list.find((one) => one.id === id)?.name ?? ''
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
