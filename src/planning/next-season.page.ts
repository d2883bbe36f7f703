import { drawCourse } from '../drawing/course.ts'
import { recordOf } from '../lookups/keys.ts'
import { formatNumber } from '../quantities/formatting.ts'
import { chanceFrom } from '../statistics/chance-from.ts'
import { catalogue } from '../words/catalogue.ts'
import {
  assumedSpreads,
  chanceToSee,
  ofPlaces,
  type Plan,
  plannedOf,
  ratioSeen,
  type Spreads,
  variantsOf,
} from './plan.ts'
import { oftenEnough, proposalOf } from './proposal.ts'
import { drawsOf, simulated } from './simulated.ts'

const words = catalogue.nextSeason
const mostTrials = 400
/** Of normal numbers, for one page: the process that draws them answers nobody else meanwhile. */
export const mostDraws = 100_000
const seed = 20_270_801
const seasonsPictured = 8

export const spreadKeys = ['garden', 'half', 'gardenBySeason', 'methodBySeason', 'cropByGarden', 'residual'] as const

/** Per cent, as a group would say it: 20 stands for a standard deviation of ln 1.2. */
const asPercent = (sd: number): number => Math.round(1000 * (Math.exp(sd) - 1)) / 10
const asLog = (percent: number): number => Math.log(1 + percent / 100)

/** The spreads as they stand in the form: the group's own where they are told, assumed otherwise. */
export function spreadsToOffer(own: Partial<Spreads> | null): Record<(typeof spreadKeys)[number], string> {
  const spreads = { ...assumedSpreads, ...own }
  return recordOf(spreadKeys, (key) => String(asPercent(spreads[key])))
}

export type PlanAsked = Record<(typeof spreadKeys)[number] | 'matters', number>

/** How often a plan is tried out: less often where one trial is large. */
export const trialsFor = (plan: Plan): number => Math.min(mostTrials, Math.floor(mostDraws / drawsOf(plan)))

/** What the plan can show, what one more of each would buy, and the plan tried out by chance. */
export function nextSeasonPage(plan: Plan, asked: PlanAsked, locale: string) {
  const spreads = recordOf(spreadKeys, (key) => asLog(asked[key]))
  const ratio = 1 + asked.matters / 100
  const number = (value: number, decimals = 2) => formatNumber(value, locale, decimals)
  const percent = (share: number | null) => (share === null ? null : `${number(100 * share, 0)} %`)
  const times = (found: number | null) => (found === null ? null : number(found))
  const planned = plannedOf(plan, spreads)
  const tried = simulated(plan, spreads, { ratio, trials: trialsFor(plan), chance: chanceFrom(seed) })
  const smallest = times(ratioSeen(plan, spreads))
  const proposed = proposalOf(plan, ratio, spreads)
  const alike = times(ratioSeen(plan, { ...spreads, methodBySeason: 0 }))
  const chance = percent(chanceToSee(ratio, plan, spreads))
  const matters = number(ratio)
  return {
    plan,
    about: planned.about,
    matters,
    smallest,
    chance,
    answer: answerSaid(smallest, matters, chance),
    behind: ofPlaces(plan, spreads).df >= 1 ? words.behind(number(ofPlaces(plan, spreads).df, 0)) : null,
    widened: plan.pairs > 1 ? words.widened(plan.methods, plan.pairs) : null,
    seasonsAlike: planned.allowed === 0 ? null : alike,
    tried: tried && {
      trials: String(tried.trials),
      seen: percent(tried.seen),
      held: percent(tried.held),
      without: percent(tried.heldWithout),
    },
    proposed: proposed && { plan: proposed.plan, chance: percent(proposed.chance) },
    picture: pictureOf(plan, proposed?.plan ?? null, { ratio, spreads, locale, matters }),
    variants: variantsOf(plan).map(({ change, plan: other }) => {
      const { df, about } = ofPlaces(other, spreads)
      return {
        change,
        about,
        behind: df < 1 ? null : number(df, 0),
        smallest: times(ratioSeen(other, spreads)),
        chance: percent(chanceToSee(ratio, other, spreads)),
      }
    }),
  }
}

/** Without a second place or season nothing says how sure; and what is never seen is said so, and given no figure. */
function answerSaid(smallest: string | null, matters: string, chance: string | null): string {
  if (chance === null) return words.none
  return `${smallest === null ? words.notSeen : words.smallest(smallest)} ${words.chance(matters, chance)}`
}

interface Drawing {
  readonly ratio: number
  readonly spreads: Spreads
  readonly locale: string
  readonly matters: string
}

/** How often the difference that matters would be shown, by seasons: as planned, and as proposed where that differs. */
function pictureOf(plan: Plan, proposed: Plan | null, { ratio, spreads, locale, matters }: Drawing) {
  const { picture: w } = words
  const isOther = proposed !== null && proposed.kind !== plan.kind
  const lines = [
    { label: w.planned, of: plan },
    ...(isOther ? [{ label: words.kinds[proposed.kind], of: proposed }] : []),
  ]
  const seasons = Array.from({ length: seasonsPictured }, (_, i) => i + 1)
  const shares = lines.map(({ of }) =>
    seasons.map((count) => {
      const share = chanceToSee(ratio, { ...of, seasons: count }, spreads)
      return share === null ? null : 100 * share
    }),
  )
  const write = (value: number, decimals: number) => formatNumber(value, locale, decimals)
  return {
    id: 'chance-by-seasons',
    title: w.title(matters),
    how: w.how,
    drawing: drawCourse({
      series: [
        ...lines.map(({ label }, i) => ({
          label,
          points: seasons.map((x, at) => ({ x, y: shares[i]?.[at] ?? null })),
        })),
        { label: w.enough, points: seasons.map((x) => ({ x, y: 100 * oftenEnough })) },
      ],
      ticks: seasons.map((at) => ({ at, label: String(at) })),
      axis: w.axis,
      write,
      fromZero: true,
      pegs: true,
    }),
    head: [w.season, ...lines.map((one) => one.label)],
    rows: seasons.map((count, at) => [
      String(count),
      ...shares.map((own) => {
        const share = own[at] ?? null
        return share === null ? words.couldNot : `${write(share, 0)} %`
      }),
    ]),
  }
}
