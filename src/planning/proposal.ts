import type { Way } from './laying.ts'
import { chanceToSee, type Plan, type PlanKind, type Spreads, variantsOf } from './plan.ts'

const mostSeasons = 8
/** A trial is worth laying out that shows the difference four times in five. */
export const oftenEnough = 0.8

interface Proposal {
  readonly plan: Plan
  readonly chance: number
}

/**
 * The layout of the same ground that shows the difference which matters four times in five in the fewest seasons; of
 * several the surest. Plots alone tell nothing about methods and are never proposed. Null where none does within eight.
 */
export function proposalOf(plan: Plan, ratio: number, spreads: Spreads): Proposal | null {
  const isLayout = (kind: PlanKind) => kind !== 'one garden'
  const same = variantsOf(plan).flatMap((one) => (isOtherWay(one.change) ? [one.plan] : []))
  const ways = [plan, ...same].filter((one) => isLayout(one.kind))
  for (let seasons = 1; seasons <= mostSeasons; seasons++) {
    const tried = ways.flatMap((one) => {
      const own = { ...one, seasons }
      const chance = chanceToSee(ratio, own, spreads)
      return chance !== null && chance >= oftenEnough ? [{ plan: own, chance }] : []
    })
    const [first, ...others] = tried
    if (first) return others.reduce((best, one) => (one.chance > best.chance ? one : best), first)
  }
  return null
}

const isOtherWay = (change: string) => !['as planned', 'place', 'crop', 'season'].includes(change)

/** How a kind of plan is laid out: each by a draw, turns after the season before. */
export const wayOfKind: Record<PlanKind, Way> = {
  'one garden': 'draw gardens',
  gardens: 'draw gardens',
  'split gardens': 'draw halves',
  'blocks of beds': 'draw blocks',
  turns: 'turn gardens',
}
