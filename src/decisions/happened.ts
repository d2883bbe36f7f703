import { isClosed } from '../comparison/matched/closed-seasons.ts'
import { dividedBetween, mostDivided } from '../comparison/matched/divided-between.ts'
import { matchedSeason } from '../comparison/matched/matched-season.ts'
import { bedsIn } from '../comparison/record/ground.ts'
import { seasonWeeks } from '../comparison/record/near-weeks.ts'
import type { SeasonRecord, TrialRecord } from '../comparison/record/trial-record.ts'
import { untilSeasons } from '../comparison/record/until-seasons.ts'
import { figureOf } from '../comparison/totals/figures.ts'
import { methodsOfBeds, methodTotals } from '../comparison/totals/method-totals.ts'
import { harvestTasks } from '../diary/tasks.ts'
import { held } from '../lookups/held.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { sumOf } from '../statistics/moments.ts'
import { type Expectation, type figuresExpected, seasonMeant } from './expectation.ts'
import { returnPerHour, type WorthOfMethod } from './value-and-effort.ts'

/** Why a closed season's record cannot say it. */
type WhyNotTold =
  | 'no ground'
  | 'weeks open'
  | 'still stands'
  | 'no price'
  | 'nothing weighed'
  | 'only divided'
  | 'nothing alike'
  | 'one gave nothing'
  | 'not by bed'
  | 'no volume'

/** Two whole numbers and what turns their quotient into the unit. */
interface Quotient {
  readonly over: number
  readonly under: number
}

interface Found {
  /** In the unit of the measure; of money in minor units. */
  readonly value: number
  readonly limit: 'at least' | null
  /** Of the method, and of the one beside it: what the value is made of. Empty where it is no quotient of two sums. */
  readonly quotients: readonly Quotient[]
}

export type SaidByRecord =
  | { readonly kind: 'no season' }
  | { readonly kind: 'season open'; readonly season: string }
  | { readonly kind: 'cannot'; readonly season: string; readonly why: WhyNotTold }
  | ({ readonly kind: 'happened'; readonly season: string } & Found)

/** One spreading as far as its volume: null where nobody can say how much its unit holds. */
interface SpreadVolume {
  readonly seasonId: string
  readonly bedIds: readonly string[]
  readonly inputId: string
  readonly volumeMl: number | null
}

export interface RecordAsked {
  readonly record: TrialRecord
  /** Of a season, in the record as far as it, at the prices of its last day. */
  readonly worthOf: (record: TrialRecord, season: SeasonRecord) => readonly WorthOfMethod[]
  readonly spread: readonly SpreadVolume[]
}

/**
 * What the record says of what was expected, once its season is closed: the same sums as Compare's for that season,
 * read as far as that season, so that nothing that comes later moves it.
 */
export function happenedBy(asked: RecordAsked, of: Expectation & { readonly decidedOn: IsoDate }): SaidByRecord {
  const season = seasonMeant(asked.record.seasons, of)
  if (!season) return { kind: 'no season' }
  if (!season.closed) return { kind: 'season open', season: season.name }
  const record = untilSeasons(asked.record, [season.id])
  const found = foundIn({ ...asked, record }, season, of)
  return typeof found === 'string'
    ? { kind: 'cannot', season: season.name, why: found }
    : { kind: 'happened', season: season.name, ...found }
}

function foundIn(asked: RecordAsked, season: SeasonRecord, of: Expectation): Found | WhyNotTold {
  if (of.measure === 'matchedRatio') return ratioIn(asked.record, season.id, of)
  if (of.measure === 'minorPerHour') return perHourIn(asked, season, of)
  if (of.measure === 'workOnGround') return workIn(asked.record, season.id, of)
  return of.measure === 'spread' ? spreadIn(asked, season.id, of) : figureIn(asked.record, season.id, of, of.measure)
}

type FigureExpected = (typeof figuresExpected)[number]

function figureIn(
  record: TrialRecord,
  seasonId: string,
  { methodId, besideMethodId }: Expectation,
  key: FigureExpected,
): Found | WhyNotTold {
  const ids = [methodId, besideMethodId].filter((id) => id !== null)
  const figures = ids.map((id) => {
    const totals = methodTotals(record, seasonId).get(id)
    return totals && totals.bedAreaCm2 > 0 ? figureOf(totals, key) : null
  })
  const known = figures.filter((one) => one !== null)
  if (known.length < ids.length) return 'no ground'
  const burden = key === 'costPerBed' ? 'costPerKg' : key
  const divided =
    burden === 'marketablePerBed' || ids.length < 2
      ? 0
      : dividedBetween(record, [seasonId], ids, { burden, unit: 'method' })
  if (divided > mostDivided) return 'only divided'
  // A least is no difference: of two methods each has to be whole.
  const limits = known.map((one) => one.limit)
  if (limits.includes('so far')) return whyOpen(record, seasonId, ids)
  if (limits.includes('weeks open')) return 'weeks open'
  if (limits.includes('at least') && ids.length > 1) return key.startsWith('cost') ? 'no price' : 'weeks open'
  const [own, other] = known.map((one) => one.value)
  if (own === null || own === undefined || other === null) return 'nothing weighed'
  return {
    value: other === undefined ? own : own - other,
    limit: limits.includes('at least') ? 'at least' : null,
    quotients: known.map(({ numerator, denominator }) => ({ over: numerator, under: denominator })),
  }
}

/** A planting that was never cleared, or weeks of weights that nobody closed. */
function whyOpen(record: TrialRecord, seasonId: string, ids: readonly string[]): WhyNotTold {
  const stands = ids.some((id) => held(methodTotals(record, seasonId), id).standing > 0)
  return stands ? 'still stands' : 'weeks open'
}

function ratioIn(record: TrialRecord, seasonId: string, { methodId, besideMethodId }: Expectation): Found | WhyNotTold {
  if (methodId === null || besideMethodId === null) return 'no ground'
  if (!isClosed(record, seasonId, [methodId, besideMethodId])) return 'weeks open'
  const found = matchedSeason(record, seasonId, { methodA: besideMethodId, methodB: methodId })
  if (found.kind === 'refused') return found.reason === 'zero total' ? 'one gave nothing' : 'nothing alike'
  return { value: Math.exp(found.logRatio), limit: null, quotients: [] }
}

function perHourIn(asked: RecordAsked, season: SeasonRecord, { methodId }: Expectation): Found | WhyNotTold {
  const worth = asked.worthOf(asked.record, season).find((one) => one.methodId === methodId)
  if (!worth) return 'no ground'
  const value = returnPerHour(worth, 1)
  if (value === null) return worth.minutes === 0 ? 'weeks open' : 'no price'
  if (worth.openWeeks > 0) return 'weeks open'
  const over = Math.round(worth.worthMinor) - worth.inputsMinor
  return { value, limit: null, quotients: [{ over, under: worth.minutes }] }
}

/** Hours written for this ground alone; refused where more than a tenth was written for other ground as well. */
function workIn(record: TrialRecord, seasonId: string, { gardenId, bedId }: Expectation): Found | WhyNotTold {
  const beds = bedsIn(record, seasonId).filter((bed) => bed.id === bedId || bed.gardenId === gardenId)
  if (beds.length === 0) return 'no ground'
  const own = new Set(beds.map((bed) => bed.id))
  const areaOf = new Map(bedsIn(record, seasonId).map((bed) => [bed.id, bed.areaCm2]))
  const work = record.labour
    .filter((one) => one.seasonId === seasonId && !isHarvest(one.task))
    .map((one) => ({
      minutes: (one.times ?? 1) * one.personMinutes,
      part: partOf(one.writtenFor ?? one.bedIds, own, areaOf),
    }))
  const alone = sumOf(work.filter((one) => one.part === 1).map((one) => one.minutes))
  const divided = sumOf(work.filter((one) => one.part < 1).map((one) => one.minutes * one.part))
  if (divided > mostDivided * (alone + divided)) return 'not by bed'
  const gardens = new Set(beds.map((bed) => bed.gardenId))
  const weeks = new Set<string>(seasonWeeks(record, seasonId))
  const closed = record.closings.filter(
    (one) => one.what === 'hours' && gardens.has(one.gardenId) && weeks.has(one.isoWeek),
  )
  const whole = closed.length >= weeks.size * gardens.size
  if (!whole && alone === 0) return 'weeks open'
  return { value: alone / 60, limit: whole ? null : 'at least', quotients: [{ over: alone, under: 60 }] }
}

/** Of some beds the part that is this ground, by area. */
function partOf(bedIds: readonly string[], own: ReadonlySet<string>, areaOf: ReadonlyMap<string, number>): number {
  const lying = bedIds.filter((id) => areaOf.has(id))
  const areas = (ids: readonly string[]) => sumOf(ids.map((id) => held(areaOf, id)))
  return lying.length === 0 ? 0 : areas(lying.filter((id) => own.has(id))) / areas(lying)
}

const isHarvest = (task: string) => harvestTasks.some((one) => one === task)

function spreadIn({ record, spread }: RecordAsked, seasonId: string, of: Expectation): Found | WhyNotTold {
  const methodOf = methodsOfBeds(record, seasonId)
  const isGround = (id: string, gardenOf: string) =>
    (of.bedId === null || of.bedId === id) &&
    (of.gardenId === null || of.gardenId === gardenOf) &&
    (of.methodId === null || methodOf.get(id) === of.methodId)
  const ground = new Set(bedsIn(record, seasonId).flatMap((bed) => (isGround(bed.id, bed.gardenId) ? [bed.id] : [])))
  if (ground.size === 0) return 'no ground'
  const here = spread.filter(
    (one) =>
      one.seasonId === seasonId &&
      (of.inputId === null || of.inputId === one.inputId) &&
      one.bedIds.some((id) => ground.has(id)),
  )
  if (here.some((one) => one.volumeMl === null)) return 'no volume'
  if (here.some((one) => !one.bedIds.every((id) => ground.has(id)))) return 'not by bed'
  const volumeMl = here.reduce((sum, one) => sum + (one.volumeMl === null ? 0 : one.volumeMl), 0)
  return { value: volumeMl / 1_000_000, limit: null, quotients: [{ over: volumeMl, under: 1_000_000 }] }
}

/** Where what happened lies beside what was expected. */
type WhereExpected = 'within' | 'under' | 'over' | 'no range'

export function besideExpected(
  value: number,
  { lowThousandths: low, highThousandths: high }: Expectation,
): WhereExpected {
  if (low === null || high === null) return 'no range'
  const rounded = Math.round(1000 * value)
  return rounded < low ? 'under' : rounded > high ? 'over' : 'within'
}
