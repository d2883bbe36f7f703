import { linked, nameIfAny } from '../../lookups/unsaid.ts'
import { isSoFar } from '../findings/explained.page.ts'
import { everyWay } from '../matched/every-way.ts'
import { replicates } from '../matched/laid-out.ts'
import type { CountingRules, Pair } from '../matched/matched-season.ts'
import { overSeasons } from '../matched/over-seasons.ts'
import { whyTheGap } from '../matched/why-the-gap.ts'
import { closedWeeks } from '../record/closed-weeks.ts'
import { seasonWeeks } from '../record/near-weeks.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { untilSeasons } from '../record/until-seasons.ts'
import { figureOf, units } from '../totals/figures.ts'
import { labourByTask } from '../totals/labour-by-task.ts'
import { labourByWeek } from '../totals/labour-by-week.ts'
import { lossesByCause } from '../totals/losses-by-cause.ts'
import { methodsOfBeds, methodTotals, sumOfSeasons } from '../totals/method-totals.ts'
import { type PictureKey, pictureKeys } from './picture-keys.ts'
import type { CropRatios, GapPictured, PairNames, SeasonRatios } from './pictures.page.ts'
import type { LabourOfMethods, LossesByCause, SeasonLabour } from './season-pictures.page.ts'

export interface WaysFigures extends PairNames {
  /** The rules that the page counts by come first. */
  readonly ways: readonly { readonly rules: CountingRules; readonly ratio: number | null }[]
}

interface OfPicture {
  readonly yields: { readonly methods: readonly { readonly method: string; readonly kgPerM2: number | null }[] }
  readonly seasons: SeasonRatios
  readonly ways: WaysFigures
  readonly crops: CropRatios
  readonly gap: GapPictured
  readonly labour: { readonly labours: readonly SeasonLabour[] }
  readonly running: LabourOfMethods
  /** Causes by the names under which they are stored. */
  readonly losses: LossesByCause
}

/** What a picture is drawn from, in no language: what a report keeps of it. */
export type PictureFigures = {
  readonly [K in PictureKey]: { readonly picture: K } & OfPicture[K]
}[PictureKey]

export interface Pictured {
  readonly referenceId: string
  /** The methods beside the reference. */
  readonly otherIds: readonly string[]
  readonly rules: CountingRules
  /** For how many pairs the interval of a method beside the reference is widened. */
  readonly comparisonsOf: (methodId: string) => number
  /** Without it, all of them. */
  readonly wanted?: readonly PictureKey[]
}

interface Given extends Omit<Pictured, 'comparisonsOf'> {
  readonly seasonIds: readonly string[]
  readonly comparisons: ReadonlyMap<string, number>
}

/** The same of plain data, for a thread of its own. */
export const picturesMade = (whole: TrialRecord, { seasonIds, comparisons, ...of }: Given): PictureFigures[] =>
  pictureFigures(untilSeasons(whole, seasonIds), seasonIds, { ...of, comparisonsOf: (id) => comparisons.get(id) ?? 1 })

/** The figures of the pictures that the record can carry: one of all methods, or one for each beside the reference. */
export function pictureFigures(
  record: TrialRecord,
  seasonIds: readonly string[],
  { referenceId, otherIds, rules, comparisonsOf, wanted = pictureKeys }: Pictured,
): PictureFigures[] {
  const [only] = seasonIds
  const one = seasonIds.length === 1 && only !== undefined ? only : null
  const pairs = otherIds.map((methodB) => ({ methodA: referenceId, methodB }))
  const methodIds = [referenceId, ...otherIds]
  const overAll = (of: Of<Pair>) => (one === null ? pairs.flatMap(of) : [])
  const makers: Record<PictureKey, () => PictureFigures[]> = {
    yields: () => yieldsOf(record, seasonIds),
    seasons: () =>
      overAll((pair) => seasonsOf(record, seasonIds, { pair, rules, comparisons: comparisonsOf(pair.methodB) })),
    ways: () => overAll((pair) => waysOf(record, seasonIds, { pair, rules })),
    crops: () => (one === null ? [] : pairs.flatMap((pair) => cropsOf(record, one, { pair, rules }))),
    gap: () => (one === null ? [] : pairs.flatMap((pair) => gapOf(record, one, pair))),
    labour: () => (one === null ? [] : labourOf(record, one, methodIds)),
    running: () => (one === null ? [] : runningOf(record, one, methodIds)),
    losses: () => lossesOf(record, seasonIds),
  }
  return pairs.length === 0 ? [] : pictureKeys.filter((key) => wanted.includes(key)).flatMap((key) => makers[key]())
}

type Of<T> = (of: T) => PictureFigures[]

interface Asked {
  readonly pair: Pair
  readonly rules: CountingRules
}

const nameOf = (record: TrialRecord, id: string) => nameIfAny(record.methods.find((one) => one.id === id))
const namesOf = (record: TrialRecord, { methodA, methodB }: Pair) => ({
  methodA: nameOf(record, methodA),
  methodB: nameOf(record, methodB),
})

function yieldsOf(record: TrialRecord, seasonIds: readonly string[]): PictureFigures[] {
  const sums = sumOfSeasons(seasonIds.map((id) => methodTotals(record, id)))
  const methods = record.methods.flatMap(({ id, name }) => {
    const totals = sums.get(id)
    if (!totals) return []
    const { numerator, denominator } = figureOf(totals, 'marketablePerBed')
    const kgPerM2 = denominator === 0 ? null : units['kg/m2'].quotient(numerator, denominator)
    return [{ method: name, kgPerM2 }]
  })
  return [{ picture: 'yields', methods }]
}

/** Each season with its ratio, their mean, and what a season more could bring. */
function seasonsOf(
  record: TrialRecord,
  seasonIds: readonly string[],
  { pair, rules, comparisons }: Asked & { readonly comparisons: number },
): PictureFigures[] {
  const found = overSeasons(record, seasonIds, pair, { rules, comparisons })
  if (found.kind === 'refused') return []
  const { contrast } = found
  // Seasons are no replicates where several places stand for each method: no mean of them is drawn with an interval.
  const ofPlaces = replicates(record, seasonIds, [pair.methodA, pair.methodB])
  const whole = contrast.kind === 'answer' && !ofPlaces ? contrast : null
  const of = (log: number) => Math.exp(log)
  const seasons = seasonIds.map((id) => {
    const own = found.seasons.find((one) => one.seasonId === id)
    const season = nameIfAny(record.seasons.find((one) => one.id === id))
    return { season, ratio: own ? of(own.logRatio) : null }
  })
  const pooled = whole && { value: of(whole.estimate), low: of(whole.low), high: of(whole.high) }
  const next = whole && { low: of(whole.prediction.low), high: of(whole.prediction.high) }
  return [{ picture: 'seasons', ...namesOf(record, pair), seasons, pooled, next, level: 1 - 0.05 / comparisons }]
}

function waysOf(record: TrialRecord, seasonIds: readonly string[], { pair, rules }: Asked): PictureFigures[] {
  if (overSeasons(record, seasonIds, pair, { rules }).kind === 'refused') return []
  const { ways } = everyWay(record, seasonIds, pair, rules)
  const told = ways.map((way) => ({ rules: way.rules, ratio: way.ratio }))
  return [{ picture: 'ways', ...namesOf(record, pair), ways: told }]
}

function cropsOf(record: TrialRecord, seasonId: string, { pair, rules }: Asked): PictureFigures[] {
  const found = overSeasons(record, [seasonId], pair, { rules })
  const season = found.kind === 'answer' ? found.seasons[0] : undefined
  if (!season) return []
  const crops = season.crops.map(({ crop, ratio }) => ({ crop, ratio }))
  return [{ picture: 'crops', ...namesOf(record, pair), crops, pooled: { value: Math.exp(season.logRatio) } }]
}

function gapOf(record: TrialRecord, seasonId: string, pair: Pair): PictureFigures[] {
  const gap = whyTheGap(record, seasonId, pair)
  if (gap.kind !== 'answer' || isSoFar(record, seasonId, [pair.methodA, pair.methodB])) return []
  const { intensity, mix, growth, onlyB, onlyA } = gap
  const total = { intensity, mix, growth, onlyB, onlyA: -onlyA }
  const crops = gap.byKey.map(({ key, ...parts }) => ({ ...parts, crop: key }))
  return [{ picture: 'gap', ...namesOf(record, pair), total, crops }]
}

function labourOf(record: TrialRecord, seasonId: string, methodIds: readonly string[]): PictureFigures[] {
  const labours = laboursOf(record, seasonId, methodIds)
  return anyMinutes(labours) ? [{ picture: 'labour', labours }] : []
}

function runningOf(record: TrialRecord, seasonId: string, methodIds: readonly string[]): PictureFigures[] {
  const labours = laboursOf(record, seasonId, methodIds)
  const totals = methodTotals(record, seasonId)
  if (!anyMinutes(labours)) return []
  const methods = labours.map(({ method, groups, weeks }, i) => {
    const area = (linked(totals, methodIds[i])?.bedAreaCm2 ?? 1) / 10_000
    const hours = weeks.map((_, week) => {
      const minutes = groups.map((group) => group.minutes[week] ?? null)
      // None of them is unknown here.
      return minutes.includes(null) ? null : minutes.reduce<number>((sum, one) => sum + (one ?? 0), 0) / 60 / area
    })
    return { method, hours }
  })
  return [{ picture: 'running', weeks: seasonWeeks(record, seasonId), methods, perArea: true }]
}

const anyMinutes = (labours: readonly SeasonLabour[]) =>
  labours.some((one) => one.groups.some((group) => group.minutes.some((minutes) => minutes)))

function laboursOf(record: TrialRecord, seasonId: string, methodIds: readonly string[]): SeasonLabour[] {
  const weeks = seasonWeeks(record, seasonId)
  const found = labourByTask(record, [seasonId])
  return methodIds.map((methodId) => {
    const entries = found.find((one) => one.methodId === methodId)?.byWeek ?? []
    const groups = labourByWeek(entries, weeks, closedFor(record, seasonId, methodId))
    return { method: nameOf(record, methodId), weeks, groups }
  })
}

/** Weeks whose hours are closed in every garden that the method lies on. */
function closedFor(record: TrialRecord, seasonId: string, methodId: string): Set<string> {
  const methodOf = methodsOfBeds(record, seasonId)
  const gardens = [
    ...new Set(record.beds.filter((bed) => methodOf.get(bed.id) === methodId).map((bed) => bed.gardenId)),
  ]
  const closed = gardens.map((id) => closedWeeks(record, id, 'hours'))
  return new Set(seasonWeeks(record, seasonId).filter((week) => closed.every((weeks) => weeks.has(week))))
}

function lossesOf(record: TrialRecord, seasonIds: readonly string[]): PictureFigures[] {
  const found = lossesByCause(record, seasonIds)
  const causes = [...new Set(found.flatMap((one) => one.causes.map((own) => own.cause)))].sort()
  if (causes.length === 0) return []
  const area = (one: (typeof found)[number], cause: string) =>
    one.causes.filter((own) => own.cause === cause).reduce((sum, own) => sum + own.areaPermille, 0) / 1e7
  const methods = found.map((one) => nameOf(record, one.methodId))
  const told = causes.map((cause) => ({ cause, values: found.map((one) => area(one, cause)) }))
  return [{ picture: 'losses', in: 'area', methods, causes: told }]
}
