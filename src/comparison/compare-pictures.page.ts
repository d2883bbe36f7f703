import { catalogue } from '../words/catalogue.ts'
import { everyWay } from './every-way.ts'
import { isSoFar } from './explained.page.ts'
import { labourByTask } from './labour-by-task.ts'
import { labourByWeek } from './labour-by-week.ts'
import { lossesByCause } from './losses-by-cause.ts'
import type { CountingRules, Pair } from './matched-season.ts'
import { methodsOfBeds, methodTotals, sumOfSeasons } from './method-totals.ts'
import { seasonWeeks } from './near-weeks.ts'
import { overSeasons } from './over-seasons.ts'
import type { Picture, Told } from './picture.ts'
import { cropRatiosPicture, everyWayPicture, gapPicture, seasonRatiosPicture, yieldsPicture } from './pictures.page.ts'
import { labourPictures, lossesPicture, runningLabourPicture } from './season-pictures.page.ts'
import type { TrialRecord } from './trial-record.ts'
import { whyTheGap } from './why-the-gap.ts'

interface Asked {
  readonly pair: Pair
  readonly rules: CountingRules
  readonly locale: string
}

/** The pictures of a comparison: of all methods, and of one of them beside the reference. */
export function comparePictures(record: TrialRecord, seasonIds: readonly string[], asked: Asked): Picture[] {
  const { locale } = asked
  const [only] = seasonIds
  const one = seasonIds.length === 1 && only !== undefined ? only : null
  return [
    yieldsOf(record, seasonIds, locale),
    ...(one === null ? overAll(record, seasonIds, asked) : ofSeason(record, one, asked)),
    ...lossesOf(record, seasonIds, locale),
  ]
}

const told = (id: string, locale: string): Told => ({ id: `picture-${id}`, locale })
const nameOf = (record: TrialRecord, id: string) => record.methods.find((one) => one.id === id)?.name ?? ''
const namesOf = (record: TrialRecord, { methodA, methodB }: Pair) => ({
  methodA: nameOf(record, methodA),
  methodB: nameOf(record, methodB),
})

function yieldsOf(record: TrialRecord, seasonIds: readonly string[], locale: string): Picture {
  const sums = sumOfSeasons(seasonIds.map((id) => methodTotals(record, id)))
  const yields = record.methods.flatMap(({ id, name }) => {
    const totals = sums.get(id)
    if (!totals) return []
    const value = totals.bedAreaCm2 === 0 ? null : (10 * totals.marketableG) / totals.bedAreaCm2
    return [{ method: name, value, noInterval: catalogue.findings.noneOfOneGarden }]
  })
  return yieldsPicture(yields, told('yields', locale))
}

/** Several seasons: each with its ratio, their mean, what a season more could bring; and every way of counting. */
function overAll(record: TrialRecord, seasonIds: readonly string[], { pair, rules, locale }: Asked): Picture[] {
  const found = overSeasons(record, seasonIds, pair, { rules })
  if (found.kind === 'refused') return []
  const { contrast } = found
  const whole = contrast.kind === 'answer' ? contrast : null
  const of = (log: number) => Math.exp(log)
  const seasons = seasonIds.map((id) => {
    const own = found.seasons.find((one) => one.seasonId === id)
    const season = record.seasons.find((one) => one.id === id)?.name ?? ''
    return { season, ratio: own ? of(own.logRatio) : null }
  })
  const pooled = whole && { value: of(whole.estimate), low: of(whole.low), high: of(whole.high) }
  const next = whole && { low: of(whole.prediction.low), high: of(whole.prediction.high) }
  const ways = everyWay(record, seasonIds, pair, rules.crops ? { crops: rules.crops } : {}).ways
  return [
    seasonRatiosPicture({ ...namesOf(record, pair), seasons, pooled, next }, told('seasons', locale)),
    everyWayPicture(
      {
        ...namesOf(record, pair),
        ways: ways.map((way, i) => ({ way: wayNamed(way.rules), ratio: way.ratio, first: i === 0 })),
      },
      told('ways', locale),
    ),
  ]
}

function wayNamed({ weights, mix, outsideLosses }: CountingRules): string {
  const words = catalogue.findings.ways
  return [words[weights], words[mix], words[outsideLosses]].join(', ')
}

/** One season: crop by crop, why the gap, and the labour through it. */
function ofSeason(record: TrialRecord, seasonId: string, { pair, rules, locale }: Asked): Picture[] {
  const found = overSeasons(record, [seasonId], pair, { rules })
  const season = found.kind === 'answer' ? found.seasons[0] : undefined
  const gap = whyTheGap(record, seasonId, pair)
  const names = namesOf(record, pair)
  return [
    ...(season
      ? [
          cropRatiosPicture(
            {
              ...names,
              crops: season.crops.map(({ crop, ratio }) => ({ crop, ratio })),
              pooled: { value: Math.exp(season.logRatio) },
            },
            told('crops', locale),
          ),
        ]
      : []),
    ...(gap.kind === 'answer' && !isSoFar(record, seasonId, [pair.methodA, pair.methodB])
      ? [
          gapPicture(
            {
              ...names,
              total: {
                intensity: gap.intensity,
                mix: gap.mix,
                growth: gap.growth,
                onlyB: gap.onlyB,
                onlyA: -gap.onlyA,
              },
              crops: gap.byKey.map(({ key, ...parts }) => ({ ...parts, crop: key })),
            },
            told('gap', locale),
          ),
        ]
      : []),
    ...labourOf(record, seasonId, pair, locale),
  ]
}

function labourOf(record: TrialRecord, seasonId: string, { methodA, methodB }: Pair, locale: string): Picture[] {
  const weeks = seasonWeeks(record, seasonId)
  const found = labourByTask(record, [seasonId])
  const totals = methodTotals(record, seasonId)
  const own = [methodA, methodB].map((methodId) => {
    const entries = found.find((one) => one.methodId === methodId)?.byWeek ?? []
    return {
      method: nameOf(record, methodId),
      weeks,
      groups: labourByWeek(entries, weeks, closedFor(record, seasonId, methodId)),
    }
  })
  if (own.every((one) => one.groups.every((group) => group.minutes.every((minutes) => !minutes)))) return []
  const running = own.map(({ method, groups }, i) => {
    const area = (totals.get([methodA, methodB][i] ?? '')?.bedAreaCm2 ?? 1) / 10_000
    const hours = weeks.map((_, week) => {
      const minutes = groups.map((group) => group.minutes[week] ?? null)
      return minutes.includes(null) ? null : minutes.reduce<number>((sum, one) => sum + (one ?? 0), 0) / 60 / area
    })
    return { method, hours }
  })
  return [
    ...labourPictures(own, told('labour', locale)),
    runningLabourPicture({ weeks, methods: running, perArea: true }, told('running', locale)),
  ]
}

/** Weeks whose hours are closed in every garden that the method lies on. */
function closedFor(record: TrialRecord, seasonId: string, methodId: string): Set<string> {
  const methodOf = methodsOfBeds(record, seasonId)
  const gardens = [
    ...new Set(record.beds.filter((bed) => methodOf.get(bed.id) === methodId).map((bed) => bed.gardenId)),
  ]
  const closed = new Set(
    record.closings.filter((one) => one.what === 'hours').map((one) => `${one.gardenId} ${one.isoWeek}`),
  )
  return new Set(seasonWeeks(record, seasonId).filter((week) => gardens.every((id) => closed.has(`${id} ${week}`))))
}

function lossesOf(record: TrialRecord, seasonIds: readonly string[], locale: string): Picture[] {
  const found = lossesByCause(record, seasonIds)
  const causes = [...new Set(found.flatMap((one) => one.causes.map((own) => own.cause)))].sort()
  if (causes.length === 0) return []
  const words = catalogue.diary.causes as Record<string, string>
  const area = (one: (typeof found)[number], cause: string) =>
    one.causes.filter((own) => own.cause === cause).reduce((sum, own) => sum + own.areaPermille, 0) / 1e7
  return [
    lossesPicture(
      {
        in: 'area',
        methods: found.map((one) => nameOf(record, one.methodId)),
        causes: causes.map((cause) => ({ cause: words[cause] ?? cause, values: found.map((one) => area(one, cause)) })),
      },
      told('losses', locale),
    ),
  ]
}
