import { firstOf, lastOf } from '../lookups/nth.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { type Answer, answer, type Refusal, refused } from '../statistics/answer.ts'

interface Tested {
  readonly day: IsoDate
  readonly value: number
  /** The laboratory's own standard error, in the unit of the value; null where it is not known. */
  readonly error: number | null
}

interface Flow {
  readonly day: IsoDate
  /** Brought above 0, taken below; null where it is not known. */
  readonly mgPerM2: number | null
}

export interface TestsAndFlows {
  /** Of one series: one quantity, at one place; by their days. */
  readonly tests: readonly Tested[]
  readonly flows: readonly Flow[]
  /** Of all seasons that are over, in the mean of one. */
  readonly broughtMgPerM2: number
  readonly takenMgPerM2: number
  readonly unit: string
  readonly depthMm: number
  readonly bulkDensity: number
  /** Standard error of a laboratory value whose own is not known, as a share of it. */
  readonly laboratoryError: number
  readonly seasons: number
}

type DressingWay = 'same' | 'half' | 'none'
export const dressingWays: readonly DressingWay[] = ['same', 'half', 'none']
const broughtShare: Readonly<Record<DressingWay, number>> = { same: 1, half: 0.5, none: 0 }

export interface HeldAgainst {
  /** For each test what it would be had all that came since the first stayed where the test finds it. */
  readonly ifAllStayed: readonly (Tested & { readonly expected: number })[]
  /** The last test by the ledger alone, less what was found. */
  readonly gap: number
  /** From the first test to the last, as found and by the ledger alone. */
  readonly change: { readonly tests: number; readonly ledger: number }
  /** Two standard errors of a difference of the first and the last value. */
  readonly twoErrors: number
  /** The tests' own change and those two errors. */
  readonly allowed: number
  /** Why they disagree: further apart than allowed, or the ledger runs against a change beyond the errors. */
  readonly disagree: 'apart' | 'against' | null
  /** Null where the tests disagree: then nothing is projected. From the last test on, a season a step. */
  readonly projected: Readonly<Record<DressingWay, readonly number[]>> | null
}

/**
 * P or K of soil tests beside what the ledger says came and went. A milligram on a m2 is one by the kilograms of soil
 * that lie on it: 240 in 20 cm at 1.2 g/cm3. All is taken as found by the test, which is an upper bound; where the last
 * test is further from it than the tests changed themselves and two standard errors, or where the tests changed by more
 * than those errors and the sum runs the other way, the sum is no description of that ground and is not carried on.
 * Refused with fewer than two days of testing, an unknown flow between them, a unit that is no share of soil, or
 * figures that no soil has.
 * Example: 205 to 186 mg/kg, 1634 by the sum: gap 1448, allowed 19 + 2 x 27.7 = 74: nothing is projected. 44 to 52 at
 * 3 per cent each (two errors 4.1) while the sum falls to 43: gap 9, allowed 12, but against the tests' own change.
 */
export function heldAgainstTests(held: TestsAndFlows): Answer<HeldAgainst> | Refusal {
  const perUnit = soilPerM2(held)
  if (perUnit === null) return refused('out of range', `${held.unit}, ${held.depthMm} mm, ${held.bulkDensity} g/cm3`)
  if (new Set(held.tests.map(({ day }) => day)).size < 2) return refused('too few', String(held.tests.length))
  const [first, last] = [firstOf(held.tests), lastOf(held.tests)]
  const between = held.flows.filter(({ day }) => day >= first.day && day <= last.day)
  if (between.some(({ mgPerM2 }) => mgPerM2 === null)) return refused('incomplete', 'a flow between the tests')
  const until = (end: IsoDate) =>
    between.filter(({ day }) => day <= end).reduce((sum, { mgPerM2 }) => sum + (mgPerM2 === null ? 0 : mgPerM2), 0)
  const ifAllStayed = held.tests.map((test) => ({ ...test, expected: first.value + until(test.day) / perUnit }))
  const gap = lastOf(ifAllStayed).expected - last.value
  const errorOf = ({ value, error }: Tested) => (error === null ? held.laboratoryError * Math.abs(value) : error)
  const twoErrors = 2 * Math.hypot(errorOf(first), errorOf(last))
  const change = { tests: last.value - first.value, ledger: lastOf(ifAllStayed).expected - first.value }
  const allowed = Math.abs(change.tests) + twoErrors
  const isAgainst = Math.abs(change.tests) > twoErrors && change.tests * change.ledger < 0
  const disagree: HeldAgainst['disagree'] = Math.abs(gap) > allowed ? 'apart' : isAgainst ? 'against' : null
  const projected = disagree === null ? carriedOn(held, perUnit) : null
  return answer({ ifAllStayed, gap, change, twoErrors, allowed, disagree, projected })
}

/** kg of soil on a m2 for mg/kg, litres for mg/L; null for other units and for what no soil is. */
function soilPerM2({ unit, depthMm, bulkDensity }: TestsAndFlows): number | null {
  if (!(depthMm > 0 && depthMm <= 1_000 && bulkDensity >= 0.2 && bulkDensity <= 2)) return null
  const plain = unit.toLowerCase().replace(/\s/g, '')
  if (plain === 'mg/kg' || plain === 'ppm') return bulkDensity * depthMm
  return plain === 'mg/l' ? depthMm : null
}

function carriedOn({ tests, broughtMgPerM2, takenMgPerM2, seasons }: TestsAndFlows, perUnit: number) {
  const from = lastOf(tests).value
  const course = (way: DressingWay) => {
    const step = (broughtShare[way] * broughtMgPerM2 - takenMgPerM2) / perUnit
    return Array.from({ length: seasons + 1 }, (_, season) => Math.max(0, from + season * step))
  }
  return { same: course('same'), half: course('half'), none: course('none') }
}
