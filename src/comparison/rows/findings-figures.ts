import { nameIfAny } from '../../lookups/unsaid.ts'
import { cautionsOf } from '../findings/cautions.ts'
import type { Finding } from '../findings/findings.ts'
import type { MissingWeeks } from '../findings/yield-finding.ts'
import { replicates } from '../matched/laid-out.ts'
import type { LeftOut } from '../matched/leaving-out.ts'
import type { CountingRules } from '../matched/matched-season.ts'
import { overSeasons } from '../matched/over-seasons.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import type { Compared } from './explained-figures.ts'
import { type FigureRow, rowsOf } from './figure-rows.ts'

/** Every figure of the sentences: ratios are of the method over the reference. */
export const findingFigures = (found: readonly Finding[]): FigureRow[] =>
  found.flatMap((finding) => {
    if (finding.code === 'nothing matched' || finding.code === 'places say nothing') return []
    if (finding.code === 'only divided')
      return rowsOf([finding.methodB, finding.divided], '1', { onlyDivided: finding.share })
    const what = 'burden' in finding ? finding.burden : 'layout' in finding ? 'methods' : 'matched yield'
    return Object.entries(figuresOf(finding)).flatMap(([figure, value]) =>
      rowsOf([finding.methodB, what], figure.startsWith('rate') ? 'kg/m2' : '1', { [figure]: value }),
    )
  })

type Said = Exclude<Finding, { readonly code: 'nothing matched' | 'only divided' | 'places say nothing' }>

function figuresOf(finding: Said): Record<string, number | null> {
  const { ratio } = finding
  if (finding.code === 'one season') {
    const { crops, leavingOut, cropsOnce, missing } = finding
    return { ratio, crops, cropsOnce, ...leftOut('leavingOut', leavingOut), ...ends(missing) }
  }
  if (finding.code === 'failed season') {
    const { seasons, rateA, rateB } = finding
    return { ratio, seasons, rateA, rateB }
  }
  const { low, high, level, seasons } = finding
  const tested = { ratio, low, high, level, seasons }
  if ('layout' in finding) {
    const { df, unitsA, unitsB, crops, failed, allIn, missing } = finding
    return { ...tested, df, unitsA, unitsB, crops, failed, allIn, ...ends(missing) }
  }
  const { everyWay, missing } = finding
  const ways = {
    ways: everyWay.counted,
    waysInOrder: everyWay.sameOrder,
    waysLow: everyWay.low,
    waysHigh: everyWay.high,
  }
  const about = 'about' in finding ? finding.about : null
  const places = about?.of === 'methods' ? { unitsA: about.unitsA, unitsB: about.unitsB } : {}
  const layout = about === null ? {} : { df: about.df, ...places }
  const counted = { ...tested, ...layout, ...ways, rulesThatTurn: everyWay.turning.length, ...ends(missing) }
  if (!('next' in finding)) return counted
  const { crops, next, smallestSeen, without } = finding
  const left = { ...leftOut('leavingOut', without.crops), ...leftOut('leavingSeasonOut', without.seasons) }
  const { cropsOnce, carriedBy } = without
  return {
    ...counted,
    crops,
    nextLow: next.low,
    nextHigh: next.high,
    smallestSeen,
    ...left,
    cropsOnce,
    cropsThatCarry: carriedBy.length,
  }
}

const leftOut = (name: string, left: LeftOut | null): Record<string, number> =>
  left ? { [`${name}Low`]: left.low, [`${name}High`]: left.high } : {}

const ends = (missing: MissingWeeks): Record<string, number> =>
  missing.kind === 'ends'
    ? { openWeeksLow: missing.low, openWeeksHigh: missing.high, openWeeksStand: missing.survives ? 1 : 0 }
    : {}

/** The ratio of each season; 0 where nothing came off the method, then the mean of them with its intervals. */
export function seasonFigures(
  record: TrialRecord,
  seasonIds: readonly string[],
  { referenceId, others }: Compared,
  rules: CountingRules,
): FigureRow[] {
  return others.flatMap((other) => {
    const over = overSeasons(
      record,
      seasonIds,
      { methodA: referenceId, methodB: other.id },
      { rules, comparisons: other.comparisons },
    )
    if (over.kind === 'refused') return []
    const name = (id: string) => nameIfAny(record.seasons.find((season) => season.id === id))
    const { seasons, failed, contrast } = over
    return [
      ...seasons.flatMap((one) => rowsOf([other.name, name(one.seasonId)], '1', { ratio: Math.exp(one.logRatio) })),
      ...failed.flatMap((one) => rowsOf([other.name, name(one.seasonId)], '1', { ratio: one.rateA > 0 ? 0 : null })),
      ...(contrast.kind === 'refused' || replicates(record, seasonIds, [referenceId, other.id])
        ? []
        : rowsOf([other.name, 'all seasons'], '1', {
            ratio: Math.exp(contrast.estimate),
            low: Math.exp(contrast.low),
            high: Math.exp(contrast.high),
            nextLow: Math.exp(contrast.prediction.low),
            nextHigh: Math.exp(contrast.prediction.high),
          })),
    ]
  })
}

/**
 * What stands as a figure under what else can fool: the ground in a uniform year, the ages of methods, later changes,
 * sealed weights.
 */
export function cautionFigures(
  record: TrialRecord,
  seasonIds: readonly string[],
  { referenceId, others }: Compared,
): FigureRow[] {
  const here = record.seasons.filter((season) => seasonIds.includes(season.id))
  const sealed = here.reduce((sum, season) => sum + season.sealed, 0)
  const ofPairs = others.flatMap((other) =>
    cautionsOf(record, seasonIds, { methodA: referenceId, methodB: other.id }).flatMap((caution): FigureRow[] => {
      if (caution.code === 'uniform year')
        return rowsOf([other.name, caution.season], '1', { uniformYear: caution.ratio })
      if (caution.code === 'unlike ages')
        return rowsOf([other.name, 'all'], 'a', { yearOfReference: caution.a, yearOfMethod: caution.b })
      if (caution.code === 'changed after closing')
        return rowsOf([other.name, 'all'], '1', { changedAfterClosing: caution.rows })
      return []
    }),
  )
  return [...ofPairs, ...rowsOf(['all methods', 'all'], '1', { sealedWeighings: sealed === 0 ? null : sealed })]
}
