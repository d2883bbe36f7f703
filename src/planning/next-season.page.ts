import { recordOf } from '../lookups/keys.ts'
import { formatNumber } from '../quantities/formatting.ts'
import { chanceFrom } from '../statistics/chance-from.ts'
import { assumedSpreads, chanceToSee, type Plan, plannedOf, type Spreads, smallestRatio, variantsOf } from './plan.ts'
import { proposalOf } from './proposal.ts'
import { drawsOf, simulated } from './simulated.ts'

const mostTrials = 400
/** Of normal numbers, for one page: the process that draws them answers nobody else meanwhile. */
export const mostDraws = 100_000
const seed = 20_270_801

export const spreadKeys = ['garden', 'half', 'gardenBySeason', 'methodBySeason', 'cropByGarden', 'residual'] as const

/** Per cent, as a group would say it: 20 stands for a standard deviation of ln 1.2. */
const asPercent = (sd: number): number => Math.round(1000 * (Math.exp(sd) - 1)) / 10
const asLog = (percent: number): number => Math.log(1 + percent / 100)

/** The spreads as they stand in the form: the group's own where they are told, assumed otherwise. */
export function spreadsToOffer(own: Partial<Spreads> | null): Record<(typeof spreadKeys)[number], string> {
  const spreads = { ...assumedSpreads, ...own }
  return recordOf(spreadKeys, (key) => String(asPercent(spreads[key])))
}

export type PlanAsked = Plan & Record<(typeof spreadKeys)[number] | 'matters', number>

/** How often a plan is tried out: less often where one trial is large. */
export const trialsFor = (plan: Plan): number => Math.min(mostTrials, Math.floor(mostDraws / drawsOf(plan)))

/** What the plan can show, what one more of each would buy, and the plan tried out by chance. */
export function nextSeasonPage(asked: PlanAsked, locale: string) {
  const { kind, n, crops, seasons, matters } = asked
  const plan = { kind, n, crops, seasons }
  const spreads = recordOf(spreadKeys, (key) => asLog(asked[key]))
  const ratio = 1 + matters / 100
  const number = (value: number, decimals = 2) => formatNumber(value, locale, decimals)
  const percent = (share: number | null) => (share === null ? null : `${number(100 * share, 0)} %`)
  const planned = plannedOf(plan, spreads)
  const tried = simulated(plan, spreads, { ratio, trials: trialsFor(plan), chance: chanceFrom(seed) })
  const smallest = smallestRatio(plan, spreads)
  const proposed = proposalOf(plan, ratio, spreads)
  const alike = smallestRatio(plan, { ...spreads, methodBySeason: 0 })
  return {
    ...{ kind, about: planned.about, df: Math.floor(planned.df), matters: number(ratio) },
    seasonsAlike: alike === null || planned.allowed === 0 ? null : number(alike),
    smallest: smallest === null ? null : number(smallest),
    chance: percent(chanceToSee(ratio, plan, spreads)),
    tried: tried && {
      trials: String(tried.trials),
      seen: percent(tried.seen),
      held: percent(tried.held),
      without: percent(tried.heldWithout),
    },
    proposed: proposed && {
      ...proposed.plan,
      chance: percent(proposed.chance),
    },
    variants: variantsOf(plan).map(({ change, plan: other }) => {
      const least = smallestRatio(other, spreads)
      const { df, about } = plannedOf(other, spreads)
      return {
        ...{
          change,
          about,
          df: df < 1 ? null : String(Math.floor(df)),
          smallest: least === null ? null : number(least),
        },
        chance: percent(chanceToSee(ratio, other, spreads)),
      }
    }),
  }
}
