import type { TrialRecord } from '../comparison/record/trial-record.ts'
import type { MethodTotals } from '../comparison/totals/figures.ts'
import { methodTotals } from '../comparison/totals/method-totals.ts'
import { rowsWith } from '../lookups/rows-with.ts'

/** Person-minutes on an area: the quotient is minutes per m2. */
export interface Worked {
  readonly minutes: number
  readonly areaCm2: number
}

/** What the record says of establishing one method beside another: hours without harvest, which grow with the crop. */
export interface LabourBeside {
  /** Seasons in which hours of the method were written as establishing. */
  readonly establishingSeasons: readonly string[]
  /** All of those hours, on the ground counted once. */
  readonly establishing: Worked
  /**
   * What those seasons took more than the other method took on the same area: where a whole season is written as
   * establishing, its ordinary work is in it, and only the rest is the price of establishing.
   */
  readonly extra: Worked
  /** Closed seasons in which neither was being established. */
  readonly settledSeasons: readonly string[]
  /** The other was being established in the same seasons: then the extra hours say less. */
  readonly otherEstablishingToo: boolean
  /** Garden-weeks of the seasons used whose hours are open: what was done in them is not known. */
  readonly openWeeks: number
}

export interface SeasonOfBoth {
  readonly name: string
  readonly closed: boolean
  readonly own: MethodTotals
  readonly other: MethodTotals
  readonly ownFounding: number
  readonly otherFounding: number
}

export function labourBeside(seasons: readonly SeasonOfBoth[]): LabourBeside {
  const founding = seasons.filter((one) => one.ownFounding > 0)
  const settled = seasons.filter((one) => one.closed && one.ownFounding === 0 && one.otherFounding === 0)
  const ground = Math.max(0, ...founding.map((one) => one.own.bedAreaCm2))
  const extra = (one: SeasonOfBoth) =>
    one.own.minutesWithoutHarvest - (one.other.minutesWithoutHarvest * one.own.bedAreaCm2) / one.other.bedAreaCm2
  return {
    establishingSeasons: founding.map((one) => one.name),
    establishing: { minutes: sum(founding, (one) => one.ownFounding), areaCm2: ground },
    extra: { minutes: sum(founding, extra), areaCm2: ground },
    settledSeasons: settled.map((one) => one.name),
    otherEstablishingToo: founding.some((one) => one.otherFounding > 0),
    openWeeks: sum([...founding, ...settled], (one) => openWeeks(one.own) + openWeeks(one.other)),
  }
}

/** The seasons in which both methods had ground, in their order. */
export function seasonsOfBoth(record: TrialRecord, methodId: string, otherId: string): SeasonOfBoth[] {
  const foundingOnly = foundingIn(record)
  return record.seasons.flatMap(({ id, name, closed }) => {
    const [own, other] = [methodTotals(record, id).get(methodId), methodTotals(record, id).get(otherId)]
    if (!own?.bedAreaCm2 || !other?.bedAreaCm2) return []
    // A method without founding work founded nothing.
    const founded = (method: string) => methodTotals(foundingOnly, id).get(method)?.minutesWithoutHarvest ?? 0
    return [{ name, closed, own, other, ownFounding: founded(methodId), otherFounding: founded(otherId) }]
  })
}

/** Only the hours of establishing; made once for each record, since every pair of methods asks for it. */
function foundingIn(record: TrialRecord): TrialRecord {
  const only = founding.get(record) ?? { ...record, labour: rowsWith(record.labour, 'phase', 'establishing') }
  founding.set(record, only)
  return only
}

const founding = new WeakMap<TrialRecord, TrialRecord>()

const openWeeks = (totals: MethodTotals) => totals.weeks - totals.hoursClosed

const sum = <T>(rows: readonly T[], of: (row: T) => number) => rows.reduce((total, row) => total + of(row), 0)
