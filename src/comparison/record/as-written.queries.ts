import { and, asc, eq, isNotNull, isNull } from 'drizzle-orm'
import type { Tx } from '../../db/database.ts'
import { labourEntries, labourShares } from '../../diary/diary.table.ts'
import { type WeighedPart, type WeighedSum, weighedByPlanting } from '../../diary/picked.queries.ts'
import { type HowWritten, hoursInWeeks, weighedInWeeks } from '../../diary/summed.queries.ts'
import { entriesWritten } from '../../diary/written.queries.ts'
import { rowsWith } from '../../lookups/rows-with.ts'
import type { IsoDate } from '../../quantities/dates.ts'
import type { IsoWeek } from '../../quantities/iso-week.ts'
import type { PlantingRow } from '../../seasons/seasons.queries.ts'
import { bedsAt, bedsOfPlaces, type SharedGround } from './shared-work.ts'
import type { EntryRecord } from './trial-record.ts'

/** In rows: each weighing and each entry of hours by itself; in sums: as the database summed and counted them. */
export type Grain = 'rows' | 'sums'

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
  readonly shareRule: string | null
  readonly shares: readonly {
    readonly gardenId: string
    readonly bedId: string | null
    readonly share: number | null
  }[]
  /** Of each entry, and how many entries have as many. */
  readonly minutes: readonly (readonly [number, number])[]
}

/** What was weighed and worked, and how it came into the record. */
interface AsWritten {
  readonly weighed: ReadonlyMap<string, readonly (WeighedSum | WeighedPart)[]>
  readonly hours: readonly HoursWritten[]
  readonly entries: readonly EntryRecord[]
}

type Ground = SharedGround & { readonly plantings: readonly PlantingRow[] }

/** Row by row, as a page that lists them needs it. */
export async function inRows(tx: Tx, groupId: string, ground: Ground): Promise<AsWritten> {
  return {
    weighed: await weighedByPlanting(tx, groupId, ground.plantings),
    hours: await hoursRows(tx, groupId, 'all'),
    entries: await entriesOf(tx, groupId, ground, 'all'),
  }
}

/** What several plantings or places share is divided row by row; all else is summed where it lies. */
export async function inSums(tx: Tx, groupId: string, ground: Ground): Promise<AsWritten> {
  const summed = await weighedInWeeks(tx, groupId)
  const hours = await hoursInWeeks(tx, groupId)
  const counted = entriesCounted([...hours, ...summed.map((one) => ({ ...nowhere, ...one }))], ground)
  const weighed: Map<string, (WeighedSum | WeighedPart)[]> = await weighedByPlanting(
    tx,
    groupId,
    ground.plantings,
    'crates',
  )
  for (const { plantingId, weeks } of summed) {
    if (plantingId === null) continue
    const own = weighed.get(plantingId)
    weighed.set(plantingId, own ? [...own, ...weeks] : weeks)
  }
  return {
    weighed,
    hours: [
      ...hours.map((one) => ({ ...one, shareRule: null, shares: [] })),
      ...(await hoursRows(tx, groupId, 'shared')),
    ],
    entries: [...counted, ...(await entriesOf(tx, groupId, ground, 'shared'))],
  }
}

const nowhere = { gardenId: null, bedId: null }

/** The shares of hours that were written for several beds or gardens, as they stand. */
export const sharesOfHours = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(labourShares)
    .where(and(eq(labourShares.groupId, groupId), isNull(labourShares.removedAt)))
    .orderBy(asc(labourShares.gardenId), asc(labourShares.bedId))

async function hoursRows(tx: Tx, groupId: string, which: 'all' | 'shared'): Promise<HoursWritten[]> {
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
    .where(
      and(
        eq(labourEntries.groupId, groupId),
        isNull(labourEntries.removedAt),
        which === 'shared' ? isNotNull(shareRule) : undefined,
      ),
    )
    .orderBy(asc(id))
  return rows.map(({ personMinutes, ...row }) => ({
    ...row,
    shares: row.shareRule === null ? [] : rowsWith(shares, 'labourEntryId', row.id),
    minutes: [[personMinutes, 1]],
  }))
}

async function entriesOf(tx: Tx, groupId: string, ground: SharedGround, which: 'all' | 'shared') {
  const { places, entries } = await entriesWritten(tx, groupId, which)
  return entries.map(({ id, ...entry }) => ({
    id,
    ...entry,
    bedIds: bedsOfPlaces(places.get(id) ?? [], entry.seasonId, ground),
  }))
}

interface Counted extends HowWritten {
  readonly seasonId: string
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly plantingId: string | null
}

/** Those of one place and season together. */
function entriesCounted(counted: readonly Counted[], ground: SharedGround): EntryRecord[] {
  const places = new Map<string, { readonly seasonId: string; readonly bedIds: readonly string[]; sum: HowWritten }>()
  for (const one of counted) {
    const bedIds = bedsAt(one, ground)
    const key = `${one.seasonId} ${one.gardenId ?? bedIds[0]}`
    const before = places.get(key)
    if (before) before.sum = together(before.sum, one)
    else places.set(key, { seasonId: one.seasonId, bedIds, sum: one })
  }
  return [...places.values()].flatMap(({ seasonId, bedIds, sum: { entries, paper, late, paperAndLate } }) => [
    ...times(paperAndLate, { seasonId, bedIds, paper: true, late: true }),
    ...times(paper - paperAndLate, { seasonId, bedIds, paper: true, late: false }),
    ...times(late - paperAndLate, { seasonId, bedIds, paper: false, late: true }),
    ...times(entries - paper - late + paperAndLate, { seasonId, bedIds, paper: false, late: false }),
  ])
}

const together = (one: HowWritten, other: HowWritten): HowWritten => ({
  entries: one.entries + other.entries,
  paper: one.paper + other.paper,
  late: one.late + other.late,
  paperAndLate: one.paperAndLate + other.paperAndLate,
})

const times = (count: number, entry: EntryRecord): EntryRecord[] => (count === 0 ? [] : [{ ...entry, times: count }])
