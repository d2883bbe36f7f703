import type { IsoDate } from '../quantities/dates.ts'
import type { How } from '../seasons/layout.ts'
import { yearOfMethod } from '../seasons/year-of-method.ts'
import { type Chance, chanceFrom } from '../statistics/chance-from.ts'
import { seedOf } from '../statistics/seed-of.ts'
import { type DealtPlace, deal, halves, turn } from './deal.ts'

export interface LayoutRows {
  readonly seasonId: string
  readonly seasons: readonly { id: string; name: string; startsOn: IsoDate }[]
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

/**
 * How places come to their methods. A draw within its holder (site, garden, block) is a randomised block after Fisher
 * 1925.
 */
export const ways = [
  'by hand',
  'as before',
  'draw freely',
  'draw gardens',
  'draw beds',
  'draw blocks',
  'draw halves',
  'draw strip',
  'turn gardens',
] as const
export type Way = (typeof ways)[number]

export interface Wanted {
  readonly way: Way
  readonly seed: string | null
  readonly methods: readonly string[]
  /**
   * Gardens and beds that are drawn or turned, by id; all of them where none is named. A garden stands for its beds.
   */
  readonly places: readonly string[]
  /** By hand: the method of a garden, or of a bed of its own. */
  readonly to: ReadonlyMap<string, string>
  /** By hand: the year in which that method was begun there, of the calendar or counted. */
  readonly since: ReadonlyMap<string, number>
}

const howOf: Record<Way, How> = {
  'by hand': 'choice',
  'as before': 'choice',
  'draw freely': 'random',
  'draw gardens': 'random',
  'draw beds': 'random',
  'draw blocks': 'random',
  'draw halves': 'random',
  'draw strip': 'random',
  'turn gardens': 'rotation',
}

export const isDrawn = (way: Way): boolean => howOf[way] === 'random'

/**
 * The assignments that a way of laying out gives: for a draw the same ones for the same seed. Of a garden of which
 * single beds are laid anew, all else stays as it lies.
 */
export function laidBy(rows: LayoutRows, wanted: Wanted): AssignmentRow[] {
  if (wanted.way === 'as before') return asBefore(rows)
  const chosen = methodByPlace(rows, wanted)
  const fresh = placesOf(rows).flatMap(({ id, gardenId, bedId }) => {
    const methodId = chosen.get(id)
    if (!methodId || !rows.methods.some((one) => one.id === methodId)) return []
    const stands = rows.assignments.find((one) => one.seasonId === rows.seasonId && lies(one, { gardenId, bedId }))
    // By hand the whole table is sent: what was drawn and is left as it lies stays drawn.
    const isLeft = wanted.way === 'by hand' && stands?.methodId === methodId && !wanted.since.has(id)
    if (isLeft) return [stands]
    const how = howOf[wanted.way]
    const laid = { gardenId, bedId, methodId, how, randomSeed: how === 'random' ? wanted.seed : null }
    return [{ ...laid, ...ageOf(rows, { gardenId, bedId }, methodId, wanted.since.get(id)), seasonId: rows.seasonId }]
  })
  return [...fresh, ...staying(rows, fresh, wanted.way)]
}

const lies = (one: AssignmentRow, at: { gardenId: string; bedId: string | null }) =>
  one.gardenId === at.gardenId && one.bedId === at.bedId

/** Each garden, then each bed. */
const placesOf = ({ gardens, beds }: LayoutRows) => [
  ...gardens.map(({ id }) => ({ id, gardenId: id, bedId: null })),
  ...beds.map(({ id, gardenId }) => ({ id, gardenId, bedId: id })),
]

/** What lies on other beds, and on the garden as a whole, where beds of it alone are laid anew; by hand all is said. */
function staying(rows: LayoutRows, fresh: readonly AssignmentRow[], way: Way): AssignmentRow[] {
  if (way === 'by hand') return []
  const whole = new Set(fresh.filter((one) => one.bedId === null).map((one) => one.gardenId))
  const touched = new Set(fresh.map((one) => one.gardenId))
  const laid = new Set(fresh.map((one) => one.bedId))
  const covered = (one: AssignmentRow) =>
    one.bedId === null && rows.beds.filter((bed) => bed.gardenId === one.gardenId).every((bed) => laid.has(bed.id))
  return rows.assignments.filter(
    (one) =>
      one.seasonId === rows.seasonId &&
      touched.has(one.gardenId) &&
      !whole.has(one.gardenId) &&
      !(one.bedId !== null && laid.has(one.bedId)) &&
      !covered(one),
  )
}

function methodByPlace(rows: LayoutRows, wanted: Wanted): ReadonlyMap<string, string> {
  const { way, seed, to } = wanted
  const methodIds = rows.methods.map((one) => one.id).filter((id) => wanted.methods.includes(id))
  if (way === 'by hand' || methodIds.length === 0) return to
  const gardens = rows.gardens.filter((one) => isMeant(wanted, one.id))
  const asPlaces = gardens.map((one): DealtPlace => ({ id: one.id, holder: one.siteId }))
  if (way === 'turn gardens') return turned(rows, wanted, methodIds)
  // A layout by hand draws nothing, so no seed was kept.
  const chance = chanceFrom(seedOf(seed ?? ''))
  if (way === 'draw gardens') return deal(asPlaces, methodIds, chance)
  if (way === 'draw freely') return deal(placesNamed(rows, wanted), methodIds, chance)
  const beds = rows.beds.filter((one) => isMeant(wanted, one.id, one.gardenId))
  const [control] = methodIds
  if (way === 'draw strip' && control !== undefined) return strips(beds, control, chance)
  if (way === 'draw halves')
    return halves(
      beds.map((one) => ({ id: one.id, holder: one.gardenId })),
      methodIds,
      chance,
    )
  const holderOf = (bed: LayoutRows['beds'][number]) => (way === 'draw blocks' ? bed.blockId : bed.gardenId)
  return deal(
    beds.map((bed) => ({ id: bed.id, holder: holderOf(bed) ?? bed.gardenId })),
    methodIds,
    chance,
  )
}

const isMeant = ({ places }: Wanted, ...ids: readonly string[]) =>
  places.length === 0 || ids.some((id) => places.includes(id))

/**
 * The gardens and beds that are named, as they are; every garden where none is. All in one holder: completely at
 * random.
 */
function placesNamed(rows: LayoutRows, wanted: Wanted): DealtPlace[] {
  const named = placesOf(rows).filter((one) => wanted.places.includes(one.id))
  const meant = wanted.places.length > 0 ? named : rows.gardens
  return meant.map(({ id }) => ({ id, holder: 'all' }))
}

/** One bed of each garden, drawn, lies under the control; the rest of the garden stays as it lies. */
function strips(beds: LayoutRows['beds'], control: string, chance: Chance): ReadonlyMap<string, string> {
  const gardenIds = [...new Set(beds.map((bed) => bed.gardenId))]
  return new Map(
    gardenIds.flatMap((gardenId) => {
      const own = beds.filter((bed) => bed.gardenId === gardenId)
      const drawn = own[chance.below(own.length)]
      return drawn ? [[drawn.id, control] as const] : []
    }),
  )
}

/**
 * Where no place is named: the beds of a garden that was split in the season before, and any other garden as a whole.
 */
function turned(rows: LayoutRows, wanted: Wanted, methodIds: readonly string[]): ReadonlyMap<string, string> {
  const before = rows.assignments.filter((one) => one.seasonId === seasonBefore(rows))
  const last = new Map(before.map((one) => [one.bedId ?? one.gardenId, one.methodId]))
  const split = new Set(before.flatMap((one) => (one.bedId === null ? [] : [one.gardenId])))
  const usual = placesOf(rows).filter((one) => (one.bedId === null) !== split.has(one.gardenId))
  const named = placesOf(rows).filter((one) => wanted.places.includes(one.id))
  const meant = wanted.places.length > 0 ? named : usual
  const lay = new Map(
    meant.flatMap((one) => {
      const methodId = last.get(one.id) ?? last.get(one.gardenId)
      return methodId === undefined ? [] : [[one.id, methodId] as const]
    }),
  )
  return turn(
    meant.map(({ id }) => ({ id, holder: 'all' })),
    methodIds,
    lay,
  )
}

function seasonBefore({ seasons, seasonId }: LayoutRows): string | undefined {
  return seasons[seasons.findIndex((one) => one.id === seasonId) - 1]?.id
}

/**
 * All as in the season before, a year older; how it was chosen stays said, with its seed. Ground that is there no more
 * is left out.
 */
function asBefore(rows: LayoutRows): AssignmentRow[] {
  const before = seasonBefore(rows)
  const there = new Set(placesOf(rows).map((one) => one.id))
  return rows.assignments
    .filter((one) => one.seasonId === before && there.has(one.bedId ?? one.gardenId))
    .map(({ gardenId, bedId, methodId, how, randomSeed, yearOfMethod: year }) => ({
      gardenId,
      bedId,
      methodId,
      how,
      randomSeed,
      seasonId: rows.seasonId,
      phase: 'established',
      yearOfMethod: year + 1,
    }))
}

/**
 * As it was said; otherwise a method that lay on this ground last season is a year older, and any other begins there.
 */
function ageOf(
  rows: LayoutRows,
  at: { gardenId: string; bedId: string | null },
  methodId: string,
  since: number | undefined,
) {
  const season = rows.seasons.find((one) => one.id === rows.seasonId)
  const year =
    since === undefined ? yearAfter(rows, at, methodId) : season ? yearOfMethod(since, season.startsOn) : since
  return { phase: year === 1 ? 'establishing' : 'established', yearOfMethod: year }
}

function yearAfter(rows: LayoutRows, at: { gardenId: string; bedId: string | null }, methodId: string): number {
  const before = rows.assignments.filter((one) => one.seasonId === seasonBefore(rows) && one.gardenId === at.gardenId)
  const own = before.find((one) => one.bedId === at.bedId) ?? before.find((one) => one.bedId === null)
  return own?.methodId === methodId ? own.yearOfMethod + 1 : 1
}
