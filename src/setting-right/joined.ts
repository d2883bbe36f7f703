import { numberIn } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { proportion } from '../quantities/split-exactly.ts'

/** A planting as far as two of them can be one. */
export interface Half {
  readonly id: string
  readonly areaCm2: number
  readonly plants: number | null
  readonly sownOn: IsoDate | null
  readonly plantedOn: IsoDate | null
  readonly clearedOn: IsoDate | null
  readonly standsUntil: IsoDate | null
  readonly matchedSetId: string | null
}

/** One planting was written down twice, or each of the two had ground of its own. */
export type GroundOfHalves = 'once' | 'each'

/** What the two are together: the earliest day of sowing, and cleared on the day on which the last of it was. */
export function joined(kept: Half, other: Half, ground: GroundOfHalves): Omit<Half, 'id'> {
  const both = [kept, other] as const
  return {
    areaCm2: ground === 'each' ? kept.areaCm2 + other.areaCm2 : kept.areaCm2,
    plants: ground === 'each' ? added(kept.plants, other.plants) : (kept.plants ?? other.plants),
    sownOn: earliest(both.map((one) => one.sownOn)),
    plantedOn: earliest(both.map((one) => one.plantedOn)),
    clearedOn: goneOn(kept.clearedOn, other.clearedOn, ground),
    standsUntil: goneOn(kept.standsUntil, other.standsUntil, ground),
    matchedSetId: kept.matchedSetId ?? other.matchedSetId,
  }
}

const added = (a: number | null, b: number | null) => (a === null || b === null ? null : a + b)
const sorted = (days: readonly (IsoDate | null)[]) => days.filter((day) => day !== null).sort()
const earliest = (days: readonly (IsoDate | null)[]) => sorted(days)[0] ?? null
const latest = (days: readonly (IsoDate | null)[]) => sorted(days).at(-1) ?? null

/** What stands on in one half stands on as a whole; of what was written twice one day may be missing. */
const goneOn = (a: IsoDate | null, b: IsoDate | null, ground: GroundOfHalves) =>
  ground === 'each' && (a === null || b === null) ? null : latest([a, b])

interface LossOfHalf {
  readonly id: string
  readonly plantingId: string
  readonly lostOn: IsoDate
  readonly sharePermille: number
  readonly cause: string
}

/**
 * The losses of both as losses of the whole. Of what was written twice a loss said twice is one. Where each half had
 * ground of its own, a loss takes its share of what still stood there, which is less of what still stood in all: half
 * of 2 m2, beside 3 m2 on which nothing was lost, is 200 in 1000. Null where a loss is left out. `sharePermille` is a
 * whole number from 1 to 1000.
 */
export function lossesOfJoined(
  losses: readonly LossOfHalf[],
  halves: readonly [Half, Half],
  ground: GroundOfHalves,
): ReadonlyMap<string, number | null> {
  const inOrder = [...losses].sort((a, b) =>
    a.lostOn < b.lostOn ? -1 : a.lostOn > b.lostOn ? 1 : a.id < b.id ? -1 : 1,
  )
  if (ground === 'once') return saidOnce(inOrder)
  // In millionths of a cm2, whole numbers, so that every engine finds the same.
  const stood = new Map(halves.map((half) => [half.id, half.areaCm2 * 1_000_000]))
  return new Map(
    inOrder.map(({ id, plantingId, sharePermille }) => {
      const here = numberIn(stood, plantingId)
      const all = [...stood.values()].reduce((sum, one) => sum + one, 0)
      const gone = proportion(here, sharePermille, 1000)
      stood.set(plantingId, here - gone)
      return [id, all === 0 ? null : Math.max(1, proportion(1000, gone, all))]
    }),
  )
}

function saidOnce(losses: readonly LossOfHalf[]): ReadonlyMap<string, number | null> {
  const said = new Set<string>()
  return new Map(
    losses.map(({ id, lostOn, sharePermille, cause }) => {
      const key = `${lostOn} ${sharePermille} ${cause}`
      const again = said.has(key)
      said.add(key)
      return [id, again ? null : sharePermille]
    }),
  )
}
