import { seasonWeeks } from '../../src/comparison/record/near-weeks.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { always } from '../../src/gardens/areas-held.ts'
import type { Chance } from '../../src/statistics/chance-from.ts'

/**
 * Standard deviations on the log scale. Ground is what a garden or block has for good, `season` what it has in one season;
 * `crop` is how a crop likes a place, `place` what a place adds to its hours and inputs for good, `rest` what is left.
 */
export const spread = { ground: 0.2, season: 0.12, crop: 0.25, rest: 0.25, place: 0.1, restOfWork: 0.15 }
export const crops = 4

export interface Design {
  readonly layout: 'one garden a method' | 'gardens' | 'split gardens' | 'blocks of beds' | 'swapped gardens'
  /** By choice the half of the gardens that seems better, to one who errs by as much as gardens differ, went to B. */
  readonly how: 'random' | 'choice'
  /** Gardens a method, split gardens, blocks, or gardens that are swapped. */
  readonly units: number
  readonly seasons: number
  /** How far each method's season strays from its rule. */
  readonly methodBySeason: number
}

export type Measure = 'weight' | 'work' | 'inputsPerKg'

/** One made-up trial of two methods that are alike in the long run, and the true log ratios of B over A. */
export interface MadeUp {
  readonly record: TrialRecord
  /** In these seasons, of the methods; and of these plots in the long run. */
  readonly truth: Readonly<Record<Measure, { readonly these: number; readonly plots: number }>>
}

type Three = readonly [weight: number, work: number, cost: number]

export function madeUp(design: Design, chance: Chance): MadeUp {
  const by = (sd: number) => sd * chance.normal()
  const three = (sd: number): Three => [by(sd), by(sd), by(sd)]
  const times = <T>(count: number, make: () => T): T[] => Array.from({ length: count }, make)
  const shared = design.layout === 'split gardens' || design.layout === 'blocks of beds'
  const wholes = { 'one garden a method': 2, gardens: 2 * design.units, 'swapped gardens': design.units }
  const count = shared ? design.units : wholes[design.layout as keyof typeof wholes]
  const ground = times(count, () => three(spread.ground))
  const turn = times(design.seasons, () => ground.map(() => three(spread.season)))
  const strays = times(design.seasons, () => [three(design.methodBySeason), three(design.methodBySeason)] as const)
  const rank = ground.map(([weight]) => (design.how === 'choice' ? weight + by(spread.ground) : chance.uniform()))
  const better = new Set([...rank.keys()].sort((a, b) => (rank[a] ?? 0) - (rank[b] ?? 0)).slice(Math.floor(count / 2)))
  const places = ground.flatMap((_, g) => (shared ? [0, 1] : [better.has(g) ? 1 : 0]).map((side) => ({ g, side })))
  const liking = places.map(() => times(crops, () => by(spread.crop)))
  const lasting = places.map(() => three(spread.place))
  const sideIn = (p: number, s: number) => {
    const side = places[p]?.side ?? 0
    return design.layout === 'swapped gardens' && s % 2 === 1 ? 1 - side : side
  }
  /** What a place has in a season of one of the three, but for the crops. */
  const at = (p: number, s: number, of: 0 | 1 | 2) => {
    const g = places[p]?.g ?? 0
    return (ground[g]?.[of] ?? 0) + (turn[s]?.[g]?.[of] ?? 0) + (strays[s]?.[sideIn(p, s) as 0 | 1]?.[of] ?? 0)
  }
  const grown = places.map((_, p) =>
    times(design.seasons, () => 0).map((_zero, s) => ({
      kg: times(crops, () => 0).map(
        (_none, c) => base(c) * Math.exp(at(p, s, 0) + (liking[p]?.[c] ?? 0) + by(spread.rest)),
      ),
      minutes: 600 * Math.exp(at(p, s, 1) + (lasting[p]?.[1] ?? 0) + by(spread.restOfWork)),
      cents: 1000 * Math.exp(at(p, s, 2) + (lasting[p]?.[2] ?? 0) + by(spread.restOfWork)),
    })),
  )
  const mean = (of: 0 | 1 | 2) => strays.reduce((sum, [a, b]) => sum + b[of] - a[of], 0) / Math.max(1, design.seasons)
  const plotOf = (side: number, of: 0 | 1 | 2) => {
    const p = places.findIndex((one) => one.side === side)
    const own = ground[places[p]?.g ?? 0]?.[of] ?? 0
    if (of > 0) return own + (lasting[p]?.[of] ?? 0)
    return (
      own + Math.log(times(crops, () => 0).reduce((sum, _none, c) => sum + base(c) * Math.exp(liking[p]?.[c] ?? 0), 0))
    )
  }
  const plots = (of: 0 | 1 | 2) => plotOf(1, of) - plotOf(0, of)
  return {
    record: recordOf(design, { places, sideIn, grown }),
    truth: {
      weight: { these: mean(0), plots: plots(0) },
      work: { these: mean(1), plots: plots(1) },
      inputsPerKg: { these: mean(2) - mean(0), plots: plots(2) - plots(0) },
    },
  }
}

const base = (crop: number) => 2 + (crop % 3)

interface Laid {
  readonly places: readonly { readonly g: number }[]
  readonly sideIn: (place: number, season: number) => number
  readonly grown: readonly (readonly { kg: readonly number[]; minutes: number; cents: number }[])[]
}

/** Hours and inputs are written for each bed; every week is closed. */
function recordOf({ layout, seasons, how }: Design, { places, sideIn, grown }: Laid): TrialRecord {
  const ids = Array.from({ length: seasons }, (_, s) => `s${s}`)
  const gardenOf = (p: number) => (layout === 'blocks of beds' ? 'one' : `g${places[p]?.g}`)
  const gardens = [...new Set(places.map((_, p) => gardenOf(p)))]
  const each = <T>(make: (p: number, s: number) => T) => ids.flatMap((_, s) => places.map((_place, p) => make(p, s)))
  const record: TrialRecord = {
    seasons: ids.map((id, s) => ({
      id,
      name: id,
      startsOn: `${2020 + s}-01-06`,
      endsOn: `${2020 + s}-01-12`,
      closed: true,
      changedSince: 0,
      sealed: 0,
    })),
    methods: ['A', 'B'].map((id) => ({ id, name: id })),
    gardens: gardens.map((id) => ({ id, name: id, areas: always(100_000), siteId: 'one' })),
    beds: places.map((place, p) => ({
      ...{ id: `b${p}`, gardenId: gardenOf(p), areas: always(100_000) },
      blockId: layout === 'blocks of beds' ? `block${place.g}` : null,
    })),
    assignments: each((p, s) => ({
      ...{ seasonId: `s${s}`, gardenId: gardenOf(p), bedId: `b${p}`, methodId: 'AB'[sideIn(p, s)] ?? '', how },
    })),
    plantings: each((p, s) =>
      (grown[p]?.[s]?.kg ?? []).map((kg, c) => ({
        ...{ id: `${s}.${p}.${c}`, seasonId: `s${s}`, bedId: `b${p}`, crop: `c${c}`, cultivar: 'x' },
        ...{ matchedSetId: `${s}.${c}`, areaCm2: 20_000, purpose: 'harvest', cleared: true, unmarketableG: 0 },
        marketableG: Math.round(2000 * kg),
      })),
    ).flat(),
    labour: each((p, s) => ({
      ...{ seasonId: `s${s}`, task: 'weeding', phase: 'established', bedIds: [`b${p}`] },
      personMinutes: Math.round(grown[p]?.[s]?.minutes ?? 0),
    })),
    spreadings: each((p, s) => ({
      ...{ seasonId: `s${s}`, usefulLifeSeasons: 1, bedIds: [`b${p}`] },
      costMinor: Math.round(grown[p]?.[s]?.cents ?? 0),
    })),
    ...{ losses: [], closings: [] },
  }
  const closings = ids.flatMap((id) =>
    seasonWeeks(record, id).flatMap((isoWeek) =>
      gardens.flatMap((gardenId) => ['hours', 'weights'].map((what) => ({ gardenId, isoWeek, what }))),
    ),
  )
  return { ...record, closings }
}
