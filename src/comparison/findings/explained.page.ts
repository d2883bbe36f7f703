import { nameIfAny } from '../../lookups/unsaid.ts'
import { formatMoney, formatNumber } from '../../quantities/formatting.ts'
import { ifOnly } from '../matched/if-only.ts'
import { type PerKg, perKgGap } from '../matched/per-kg-gap.ts'
import { whyTheGap } from '../matched/why-the-gap.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { labourByTask } from '../totals/labour-by-task.ts'
import { gardensThatFailed, lossesByCause } from '../totals/losses-by-cause.ts'
import { methodTotals, sumOfSeasons } from '../totals/method-totals.ts'

interface Asked {
  readonly referenceId: string
  readonly others: readonly { id: string; name: string }[]
  readonly locale: string
  readonly currency: string
}

/** What lies behind the gaps: parts of the gap, all methods at once, losses by cause, labour by task. */
export function explained(
  record: TrialRecord,
  seasonIds: readonly string[],
  { referenceId, others, locale, currency }: Asked,
) {
  const [only] = seasonIds
  const one = seasonIds.length === 1 && only !== undefined ? only : null
  return {
    gaps: one === null ? [] : others.map((other) => gapRow(record, one, referenceId, other, locale)),
    perKg:
      one === null
        ? []
        : (['minutes', 'costMinor'] as const).flatMap((of) =>
            others.flatMap((other) => perKgRow(record, one, { methodA: referenceId, other, of }, { locale, currency })),
          ),
    ifOnly: one === null ? null : ifOnlyTable(record, one, [referenceId, ...others.map((other) => other.id)], locale),
    losses: {
      ...lossesTable(record, seasonIds, locale),
      gardens: others.flatMap((other) => failedRow(record, seasonIds, referenceId, other, locale)),
    },
    labour: labourTable(record, seasonIds, locale),
  }
}

const signed = (value: number, locale: string) => {
  const rounded = Math.round(value * 100) / 100 + 0
  return `${rounded > 0 ? '+' : ''}${formatNumber(rounded, locale, 2)}`
}

/** Something still stands, or a week of weights is open, under one of these methods: what is split is not yet whole. */
export function isSoFar(record: TrialRecord, seasonId: string, methodIds: readonly string[]): boolean {
  const totals = methodTotals(record, seasonId)
  return methodIds.some((id) => {
    const own = totals.get(id)
    return own !== undefined && (own.standing > 0 || own.weightsClosed < own.weeks)
  })
}

function gapRow(
  record: TrialRecord,
  seasonId: string,
  referenceId: string,
  other: { id: string; name: string },
  locale: string,
) {
  const gap = whyTheGap(record, seasonId, { methodA: referenceId, methodB: other.id })
  if (gap.kind === 'refused') return { method: other.name, cells: null, crops: [] }
  const parts = [gap.crudeB - gap.crudeA, gap.intensity, gap.mix, gap.growth, gap.onlyB, -gap.onlyA]
  return {
    method: other.name,
    soFar: isSoFar(record, seasonId, [referenceId, other.id]),
    cells: parts.map((value) => signed(value, locale)),
    crops: gap.byKey.map((crop) => ({
      crop: crop.key,
      cells: [crop.intensity, crop.mix, crop.growth].map((value) => signed(value, locale)),
    })),
  }
}

interface PerKgAsked {
  readonly methodA: string
  readonly other: { readonly id: string; readonly name: string }
  readonly of: PerKg
}

function perKgRow(
  record: TrialRecord,
  seasonId: string,
  { methodA, other, of }: PerKgAsked,
  { locale, currency }: { readonly locale: string; readonly currency: string },
) {
  const gap = perKgGap(record, seasonId, { methodA, methodB: other.id }, of)
  if (gap.kind === 'refused') return []
  const written = (value: number) =>
    of === 'minutes' ? signed(value, locale) : formatMoney(Math.round(value), locale, currency)
  const share = (covered: number) => `${formatNumber(100 * covered, locale, 0)} %`
  return [
    {
      method: other.name,
      of,
      cells: [gap.crudeB - gap.crudeA, gap.mixEffect, gap.rateEffect].map(written),
      covered: [share(gap.coveredA), share(gap.coveredB)],
    },
  ]
}

function ifOnlyTable(record: TrialRecord, seasonId: string, methodIds: readonly string[], locale: string) {
  const found = ifOnly(record, seasonId, methodIds)
  if (found.kind === 'refused') return null
  const row = (values: readonly number[]) => values.map((value) => formatNumber(value, locale, 2))
  const of = (factor: string) => row(found.standardised[factor] ?? [])
  return {
    soFar: isSoFar(record, seasonId, methodIds),
    methods: methodIds.map((id) => nameIfAny(record.methods.find((one) => one.id === id))),
    crops: found.crops.length,
    crude: row(found.crude),
    intensity: of('intensity'),
    mix: of('mix'),
    growth: of('growth'),
  }
}

/** How many more gardens of one method lost a planting whole: only where gardens are replicated. */
function failedRow(
  record: TrialRecord,
  seasonIds: readonly string[],
  methodA: string,
  other: { id: string; name: string },
  locale: string,
) {
  const found = gardensThatFailed(record, seasonIds, { methodA, methodB: other.id })
  if (found.kind === 'refused') return []
  const points = (share: number) => formatNumber(100 * share, locale, 0)
  const { difference, low, high } = found
  return [{ method: other.name, difference: points(difference), low: points(low), high: points(high) }]
}

function lossesTable(record: TrialRecord, seasonIds: readonly string[], locale: string) {
  const found = lossesByCause(record, seasonIds)
  const keys = [
    ...new Set(found.flatMap((one) => one.causes.map(({ cause, outsideMethod }) => `${cause}|${outsideMethod}`))),
  ]
  const percent = (share: number | null) => (share === null ? null : `${formatNumber(100 * share, locale, 0)} %`)
  const figure = (value: number | null) => (value === null ? null : formatNumber(value, locale, 2))
  return {
    methods: found.map((one) => nameIfAny(record.methods.find((method) => method.id === one.methodId))),
    rows: keys.sort().map((key) => {
      const [cause = '', outside] = key.split('|')
      return {
        cause,
        outside: outside === 'true',
        cells: found.map((one) => {
          const own = one.causes.find((it) => it.cause === cause && String(it.outsideMethod) === outside)
          if (!own) return null
          return {
            count: own.count,
            share: percent(own.areaPermille / 1000 / one.plantedAreaCm2),
            nextDoor: own.nextDoor,
          }
        }),
      }
    }),
    failed: found.map((one) => ({ failed: one.failed, plantings: one.plantings })),
    lost: found.map((one) => percent(one.lostShare)),
    standing: found.map((one) => figure(one.kgPerM2Standing)),
    planted: found.map((one) => figure(one.kgPerM2Planted)),
  }
}

function labourTable(record: TrialRecord, seasonIds: readonly string[], locale: string) {
  const found = labourByTask(record, seasonIds)
  const totals = sumOfSeasons(seasonIds.map((id) => methodTotals(record, id)))
  const perM2 = (methodId: string, minutes: number) =>
    formatNumber(((minutes / (totals.get(methodId)?.bedAreaCm2 ?? 1)) * 10_000) / 60, locale, 2)
  const tasks = [...new Set(found.flatMap((one) => Object.keys(one.byTask)))]
  const ofTask = (one: (typeof found)[number], task: string) => one.byTask[task] ?? { minutes: 0, establishing: 0 }
  const sum = (one: (typeof found)[number], of: 'minutes' | 'establishing') =>
    Object.values(one.byTask).reduce((all, task) => all + task[of], 0)
  return {
    methods: found.map((one) => nameIfAny(record.methods.find((method) => method.id === one.methodId))),
    rows: tasks.map((task) => ({ task, cells: found.map((one) => perM2(one.methodId, ofTask(one, task).minutes)) })),
    all: found.map((one) => perM2(one.methodId, sum(one, 'minutes'))),
    establishing: found.map((one) => perM2(one.methodId, sum(one, 'establishing'))),
  }
}
