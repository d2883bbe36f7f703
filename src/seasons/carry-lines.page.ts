import { addDays, daysBetween, type IsoDate } from '../quantities/dates.ts'
import { endOf, inBedFrom } from './bed-course.ts'
import { carriedAlready } from './carried-already.page.ts'
import { carriedDays, yearsBetween } from './carried-days.ts'
import type { PlanPlanting, PlanRows } from './plan.page.ts'
import { fitsIn } from './room-in-bed.ts'

/** What a carry-over is made from: the plan of a season, and which method lies where. */
export interface CarryRows extends PlanRows {
  /** Of plantings that were carried over, the ones they came from. */
  readonly carriedFrom: ReadonlyMap<string, string>
  readonly assignments: readonly {
    readonly seasonId: string
    readonly gardenId: string
    readonly bedId: string | null
    readonly methodId: string
  }[]
}

/** The season before one, and how many years lie between the two. */
export function seasonBefore({ seasons, seasonId }: Pick<PlanRows, 'seasons' | 'seasonId'>) {
  const i = seasons.findIndex((one) => one.id === seasonId)
  const [before, own] = [seasons[i - 1], seasons[i]]
  return before && own ? { ...before, years: yearsBetween(before, own) } : null
}

/** What was said of lines, by their numbers; null where nothing was said yet. */
export interface LinesAsked {
  readonly ticked: ReadonlySet<number>
  /** The place of a bed among those of its garden. */
  readonly beds: ReadonlyMap<number, number>
  readonly days: ReadonlyMap<number, IsoDate>
  /** The first day of sowing; null where the days of the year are kept. */
  readonly first: IsoDate | null
}

type Bed = PlanRows['beds'][number]

export interface CarryLine {
  readonly number: number
  readonly planting: PlanPlanting
  /** All beds of the garden, in the order of the walk. */
  readonly beds: readonly Bed[]
  readonly bed: Bed
  readonly day: IsoDate
  readonly ticked: boolean
  /** It stands on through the whole of this season: a perennial. */
  readonly staysOn: boolean
  /** What it became in this season, where it was carried already. */
  readonly there: PlanPlanting | undefined
  /** Ticked, but its bed has no room for it then. */
  readonly noRoom: boolean
}

/**
 * Each planting of the season before whose bed is still there, in the order of the walk, on its day and in the bed it
 * would go to: the one chosen, or the next of its garden under the method it stood under that has room for it. What is
 * carried already, and what stands on, is not ticked by itself.
 */
export function linesOf(rows: CarryRows, asked: LinesAsked | null): CarryLine[] {
  const before = seasonBefore(rows)
  const own = rows.seasons.find((one) => one.id === rows.seasonId)
  const stood = inOrder(rows, before?.id)
  const inBed = new Map(stood.map(({ planting }) => [planting.id, inBedFrom(planting)]))
  const days = carriedDays(inBed, before?.years ?? 1, asked?.first ?? null)
  const offered = stood.map(({ planting, beds }) => ({
    planting,
    beds,
    day: days.get(planting.id) ?? inBedFrom(planting),
    turn: inTurn(rows, planting, beds),
  }))
  const there = carriedAlready(rows, offered)
  const taken = [...rows.plantings]
  return offered.flatMap(({ planting, beds, day: usual, turn }, number) => {
    const already = there.get(planting.id)
    const end = endOf(planting)
    const endsLater = own !== undefined && end !== null && end >= own.endsOn
    const staysOn = endsLater || (planting.standsOverSeasons === 1 && planting.clearedOn === null)
    const ticked = asked === null ? already === undefined && !staysOn : asked.ticked.has(number)
    const day = asked?.days.get(number) ?? usual
    const chosen = beds[asked?.beds.get(number) ?? -1]
    const would = (bed: Bed) => movedTo(planting, { bedId: bed.id, day, seasonId: rows.seasonId })
    const fitting = chosen ?? turn.find((bed) => hasRoom(bed, taken, would(bed)))
    const bed = fitting ?? turn[0]
    if (!bed) return []
    const noRoom = ticked && !hasRoom(bed, taken, would(bed))
    if (ticked && !noRoom) taken.push(would(bed))
    return [{ number, planting, beds, bed, day, ticked, staysOn, there: already, noRoom }]
  })
}

function inOrder(rows: CarryRows, seasonId: string | undefined) {
  const walk = rows.gardens.flatMap((garden) => rows.beds.filter((bed) => bed.gardenId === garden.id))
  return walk.flatMap((bed) =>
    rows.plantings
      .filter((one) => one.seasonId === seasonId && one.bedId === bed.id)
      .sort((a, b) => (inBedFrom(a) < inBedFrom(b) ? -1 : inBedFrom(a) > inBedFrom(b) ? 1 : a.id < b.id ? -1 : 1))
      .map((planting) => ({ planting, beds: walk.filter((one) => one.gardenId === bed.gardenId) })),
  )
}

/**
 * The beds it could go to, the next in turn first and its own last: those under the method that it stood under, as they
 * lie in this season, or as they lay before where nothing is laid yet. A garden that has changed its method has all its
 * beds.
 */
function inTurn(rows: CarryRows, planting: PlanPlanting, beds: readonly Bed[]): readonly Bed[] {
  const gardenId = beds[0]?.gardenId
  const laid = (seasonId: string) =>
    rows.assignments.filter((one) => one.seasonId === seasonId && one.gardenId === gardenId)
  const before = laid(planting.seasonId)
  const own = laid(rows.seasonId)
  const now = own.length > 0 ? own : before
  const methodIn = (list: typeof before, bedId: string) =>
    (list.find((one) => one.bedId === bedId) ?? list.find((one) => one.bedId === null))?.methodId
  const method = methodIn(before, planting.bedId)
  const same = beds.filter((bed) => methodIn(now, bed.id) === method)
  const from = beds.findIndex((bed) => bed.id === planting.bedId)
  const turned = [...beds.slice(from + 1), ...beds.slice(0, from + 1)]
  return same.length === 0 ? turned : turned.filter((bed) => same.includes(bed))
}

/** A planting as it would stand in this season: all its days move as the one on which it comes into its bed. */
export function movedTo(planting: PlanPlanting, to: { bedId: string; day: IsoDate; seasonId: string }): PlanPlanting {
  const days = daysBetween(inBedFrom(planting), to.day)
  const moved = (day: IsoDate | null) => (day === null ? null : addDays(day, days))
  return {
    ...planting,
    id: `would be ${planting.id}`,
    seasonId: to.seasonId,
    bedId: to.bedId,
    clearedOn: null,
    sownOn: moved(planting.sownOn),
    plantedOn: moved(planting.plantedOn),
    standsUntil: moved(endOf(planting)),
  }
}

/**
 * Whether a bed holds one more: what is not cleared stands on, so that two that follow one another are counted
 * together.
 */
function hasRoom(bed: Bed, standing: readonly PlanPlanting[], more: PlanPlanting): boolean {
  const here = standing.filter((one) => one.bedId === bed.id)
  return fitsIn(bed.areas, here, more)
}
