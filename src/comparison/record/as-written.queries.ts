import { and, asc, eq, inArray, isNotNull, isNull, or } from 'drizzle-orm'
import { unionAll } from 'drizzle-orm/pg-core'
import { atOnce } from '../../db/at-once.ts'
import type { Tx } from '../../db/database.ts'
import type { ByRow } from '../../diary/by-row.ts'
import { harvests, labourEntries, labourShares } from '../../diary/diary.table.ts'
import { summedBySeason } from '../../diary/kept-sums.queries.ts'
import { type WeighedPart, weighedByPlanting } from '../../diary/picked.queries.ts'
import type { HoursInWeek, HowWritten, WeighedInSeason } from '../../diary/summed.queries.ts'
import { entriesWritten } from '../../diary/written.queries.ts'
import { rowsWith } from '../../lookups/rows-with.ts'
import type { IsoDate } from '../../quantities/dates.ts'
import type { IsoWeek } from '../../quantities/iso-week.ts'
import type { PlantingCounted } from '../../seasons/plantings-counted.queries.ts'
import type { seasonsOf } from '../../seasons/seasons.queries.ts'
import { bedsAt, bedsOfPlaces, type SharedGround } from './shared-work.ts'
import type { EntryRecord } from './trial-record.ts'

/**
 * In rows: each weighing and each entry of hours by itself; in sums: as the database summed and counted them; or only
 * what the rows of some seasons show by itself, and the rest in sums.
 */
export type Grain = 'rows' | 'sums' | { readonly rowsOf: readonly string[] }

/** Hours as they were written: one entry, or several that are alike in all but their minutes. */
export interface HoursWritten {
  readonly id?: string
  readonly workedOn?: IsoDate | null
  readonly seasonId: string
  readonly isoWeek: IsoWeek
  readonly task: string
  readonly phase: string | null
  readonly who: string | null
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly plantingId: string | null
  /** Left out where nobody else has a part in them. */
  readonly shareRule?: string | null
  readonly shares?: readonly {
    readonly gardenId: string
    readonly bedId: string | null
    readonly share: number | null
  }[]
  /** Of each entry, and how many entries have as many. */
  readonly minutes: readonly (readonly [number, number])[]
}

/** A weighing of a planting, or the weeks of a season of it that the database summed. */
export interface WeighedOf {
  readonly seasonId: string
  readonly marketableG: number
  readonly unmarketableG: number
  readonly part?: WeighedPart
  readonly weeks?: string
}

/** What was weighed and worked, and how it came into the record. */
interface AsWritten {
  readonly weighed: ReadonlyMap<string, readonly WeighedOf[]>
  readonly hours: readonly HoursWritten[]
  readonly entries: readonly EntryRecord[]
}

interface Ground extends SharedGround {
  readonly plantings: readonly PlantingCounted[]
  /** All of the group, by their first day. */
  readonly seasons: Awaited<ReturnType<typeof seasonsOf>>
}

/** What was weighed and worked, in that grain. */
export const asWritten = (tx: Tx, groupId: string, ground: Ground, grain: Grain): Promise<AsWritten> =>
  grain === 'rows' ? inRows(tx, groupId, ground) : inSums(tx, groupId, ground, grain === 'sums' ? [] : grain.rowsOf)

/** Row by row, as a page that lists them needs it. */
async function inRows(tx: Tx, groupId: string, ground: Ground): Promise<AsWritten> {
  const { weighed, hours, entries } = await eachRow(tx, groupId, ground, 'all')
  return { weighed: eachOf(weighed), hours, entries }
}

/** What several plantings or places share is divided row by row, with all of some seasons; the rest is summed. */
async function inSums(tx: Tx, groupId: string, ground: Ground, rowsOf: readonly string[]): Promise<AsWritten> {
  const [sums, rows] = await atOnce([summedBySeason(tx, groupId, ground.seasons), inPart(tx, groupId, ground, rowsOf)])
  const summed = sums.weighed.filter((one) => !rowsOf.includes(one.seasonId))
  const hours = sums.hours.filter((one) => !rowsOf.includes(one.seasonId))
  const counted = entriesCounted(hours, summed, ground)
  const weighed = eachOf(rows.weighed)
  for (const one of summed) {
    const others = weighed.get(one.plantingId)
    weighed.set(one.plantingId, others ? [...others, one] : [one])
  }
  const isByRow = founding(rowsOf, ground)
  return {
    weighed,
    hours: [...hours.filter((one) => !isByRow(one)), ...rows.hours],
    entries: [...counted, ...rows.entries],
  }
}

/** Looked for first where no season is asked for, since to find none takes eight questions otherwise. */
async function inPart(tx: Tx, groupId: string, ground: Ground, rowsOf: readonly string[]) {
  if (rowsOf.length > 0 || (await anyShared(tx, groupId))) return eachRow(tx, groupId, ground, rowsOf)
  return { weighed: new Map<string, WeighedPart[]>(), hours: [], entries: [] }
}

async function eachRow(tx: Tx, groupId: string, ground: Ground, which: ByRow) {
  const [weighed, hours, entries] = await atOnce([
    weighedByPlanting(tx, groupId, ground.plantings, which),
    hoursRows(tx, groupId, ground, which),
    entriesOf(tx, groupId, ground, which),
  ])
  return { weighed, hours, entries }
}

/**
 * The seasons in which something was being established: hours of it count in later seasons too, and stand among their
 * rows.
 */
const foundingIn = ({ assignments }: Ground): string[] => [
  ...new Set(assignments.flatMap((one) => (one.phase === 'establishing' ? [one.seasonId] : []))),
]

/** Which hours of other seasons stand among the rows of some; where none is asked for, none does. */
function founding(rowsOf: readonly string[], ground: Ground) {
  const seasonIds = foundingIn(ground)
  return ({ seasonId, phase }: Pick<HoursWritten, 'seasonId' | 'phase'>) =>
    rowsOf.length > 0 && (phase === 'establishing' || (phase === null && seasonIds.includes(seasonId)))
}

async function anyShared(tx: Tx, groupId: string): Promise<boolean> {
  const crates = tx
    .select({ id: harvests.id })
    .from(harvests)
    .where(and(eq(harvests.groupId, groupId), isNull(harvests.plantingId)))
    .limit(1)
  const hours = tx
    .select({ id: labourEntries.id })
    .from(labourEntries)
    .where(and(eq(labourEntries.groupId, groupId), isNotNull(labourEntries.shareRule)))
    .limit(1)
  return (await unionAll(crates, hours)).length > 0
}

const eachOf = (parts: ReadonlyMap<string, readonly WeighedPart[]>) =>
  new Map<string, readonly WeighedOf[]>(
    [...parts].map(([plantingId, own]) => [plantingId, own.map((part) => ({ ...part, part }))]),
  )

const nowhere = { gardenId: null, bedId: null }

/** The shares of hours that were written for several beds or gardens, as they stand. */
export const sharesOfHours = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(labourShares)
    .where(and(eq(labourShares.groupId, groupId), isNull(labourShares.removedAt)))
    .orderBy(asc(labourShares.gardenId), asc(labourShares.bedId))

/** Of the seasons asked for, with those that `founding` names. */
function hoursByRow(ground: Ground, which: ByRow) {
  const { seasonId, phase, shareRule } = labourEntries
  if (which === 'all') return undefined
  if (which.length === 0) return isNotNull(shareRule)
  const founded = or(eq(phase, 'establishing'), and(isNull(phase), inArray(seasonId, foundingIn(ground))))
  return or(isNotNull(shareRule), inArray(seasonId, [...which]), founded)
}

async function hoursRows(tx: Tx, groupId: string, ground: Ground, which: ByRow): Promise<HoursWritten[]> {
  const { id, seasonId, isoWeek, workedOn, task, phase, who, personMinutes } = labourEntries
  const { gardenId, bedId, plantingId, shareRule } = labourEntries
  const shares = await sharesOfHours(tx, groupId)
  const rows = await tx
    .select({
      id,
      seasonId,
      isoWeek,
      workedOn,
      task,
      phase,
      who,
      personMinutes,
      gardenId,
      bedId,
      plantingId,
      shareRule,
    })
    .from(labourEntries)
    .where(and(eq(labourEntries.groupId, groupId), isNull(labourEntries.removedAt), hoursByRow(ground, which)))
    .orderBy(asc(id))
  return rows.map(({ personMinutes, ...row }) => ({
    ...row,
    shares: row.shareRule === null ? [] : rowsWith(shares, 'labourEntryId', row.id),
    minutes: [[personMinutes, 1]],
  }))
}

async function entriesOf(tx: Tx, groupId: string, ground: SharedGround, which: ByRow) {
  const { places, entries } = await entriesWritten(tx, groupId, which)
  return entries.map(({ id, ...entry }) => ({
    id,
    ...entry,
    bedIds: bedsOfPlaces(places.get(id) ?? [], entry.seasonId, ground),
  }))
}

/** Of one place in one season; counted up row by row. */
class OfPlace {
  entries = 0
  paper = 0
  late = 0
  paperAndLate = 0
  private readonly seasonId: string
  private readonly bedIds: readonly string[]

  constructor(seasonId: string, bedIds: readonly string[]) {
    this.seasonId = seasonId
    this.bedIds = bedIds
  }

  add({ entries, paper, late, paperAndLate }: HowWritten): void {
    this.entries += entries
    this.paper += paper
    this.late += late
    this.paperAndLate += paperAndLate
  }

  records(): EntryRecord[] {
    const { seasonId, bedIds, entries, paper, late, paperAndLate } = this
    return [
      ...times(paperAndLate, { seasonId, bedIds, paper: true, late: true }),
      ...times(paper - paperAndLate, { seasonId, bedIds, paper: true, late: false }),
      ...times(late - paperAndLate, { seasonId, bedIds, paper: false, late: true }),
      ...times(entries - paper - late + paperAndLate, { seasonId, bedIds, paper: false, late: false }),
    ]
  }
}

/** Those of one place and season together. */
function entriesCounted(
  hours: readonly HoursInWeek[],
  weighed: readonly WeighedInSeason[],
  ground: SharedGround,
): EntryRecord[] {
  const seasons = new Map<string, Map<string | undefined, OfPlace>>()
  const add = (one: HowWritten, seasonId: string, at: { gardenId: string | null; bedIds: readonly string[] }) => {
    const places = seasons.get(seasonId) ?? new Map<string | undefined, OfPlace>()
    seasons.set(seasonId, places)
    const key = at.gardenId ?? at.bedIds[0]
    const place = places.get(key) ?? new OfPlace(seasonId, at.bedIds)
    places.set(key, place)
    place.add(one)
  }
  for (const one of hours) add(one, one.seasonId, { gardenId: one.gardenId, bedIds: bedsAt(one, ground) })
  for (const one of weighed) {
    const { seasonId, plantingId } = one
    add(one, seasonId, { gardenId: null, bedIds: bedsAt({ ...nowhere, seasonId, plantingId }, ground) })
  }
  return [...seasons.values()].flatMap((places) => [...places.values()].flatMap((place) => place.records()))
}

const times = (count: number, entry: EntryRecord): EntryRecord[] => (count === 0 ? [] : [{ ...entry, times: count }])
