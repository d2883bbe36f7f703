import { formatDay, formatNumber } from '../quantities/formatting.ts'
import { findings as words } from '../words/en/findings.ts'
import { question as questionWords } from '../words/en/question.ts'
import type { Finding } from './findings.ts'
import { findingsOf } from './findings.ts'
import { type CountingRules, plainRules } from './matched-season.ts'
import { overSeasons } from './over-seasons.ts'
import type { TrialRecord } from './trial-record.ts'
import { whyTheGap } from './why-the-gap.ts'

export interface FindingShown {
  readonly sentence: string
  readonly notes: readonly string[]
}

/** Findings as sentences, the gap of each method beside the reference, and the ratio of every season. */
export function findingsPage(
  record: TrialRecord,
  seasonIds: readonly string[],
  question: Question | null,
  locale: string,
) {
  const referenceId = question?.referenceId ?? firstMethod(record, seasonIds)
  const rules = question?.rules ?? plainRules
  const found = findingsOf(record, { seasonIds, referenceId, questionLocked: question !== null, rules })
  const others = record.methods.filter((one) => one.id !== referenceId && assigned(record, seasonIds).has(one.id))
  return {
    reference: nameOf(record, referenceId),
    answer: answerOf(question, found, locale),
    findings: found.map((one): FindingShown => ({ sentence: sentenceOf(one, locale), notes: notesOf(one, locale) })),
    gaps:
      seasonIds.length === 1 ? others.map((one) => gapRow(record, seasonIds[0] ?? '', referenceId, one, locale)) : [],
    seasons: seasonIds.length > 1 ? seasonsTable(record, seasonIds, referenceId, others, locale) : null,
  }
}

/** The season's question as it was locked, with the day. */
export interface Question {
  readonly question: string
  readonly referenceId: string
  readonly primaryMeasure: string
  readonly seasonsToLookAt: number
  readonly sentenceIfSeen: string
  readonly sentenceIfNotSeen: string
  readonly rules: CountingRules
  readonly lockedOn: string
  readonly marginPercent: number | null
}

/** The question, and its own sentence once as many seasons stand as the group wanted to look at. */
function answerOf(question: Question | null, found: readonly Finding[], locale: string): string[] {
  if (!question) return []
  const asked = questionWords.asked(question.question, formatDay(question.lockedOn, locale))
  const yields = question.primaryMeasure === 'matched yield'
  const codes = yields ? (['seen', 'not seen'] as const) : (['labour seen', 'labour not seen'] as const)
  const own = found.filter((one) => (codes as readonly string[]).includes(one.code))
  const seasons = Math.max(0, ...own.map((one) => ('seasons' in one ? one.seasons : 0)))
  if (own.length === 0 || seasons < question.seasonsToLookAt)
    return [asked, questionWords.notYet(seasons, question.seasonsToLookAt)]
  const seen = own.some((one) => one.code === codes[0])
  return [asked, questionWords.answer(seen ? question.sentenceIfSeen : question.sentenceIfNotSeen)]
}

function firstMethod(record: TrialRecord, seasonIds: readonly string[]): string {
  const there = assigned(record, seasonIds)
  return record.methods.find((method) => there.has(method.id))?.id ?? ''
}

const assigned = (record: TrialRecord, seasonIds: readonly string[]) =>
  new Set(record.assignments.filter((one) => seasonIds.includes(one.seasonId)).map((one) => one.methodId))

const nameOf = (record: TrialRecord, id: string) => record.methods.find((method) => method.id === id)?.name ?? ''

export function sentenceOf(finding: Finding, locale: string): string {
  switch (finding.code) {
    case 'seen':
      return words.seen(finding, locale)
    case 'not seen':
      return words['not seen'](finding, locale)
    case 'one season':
      return words['one season'](finding, locale)
    case 'nothing matched':
      return words['nothing matched'](finding)
    case 'labour seen':
      return words['labour seen'](finding, locale)
    case 'labour not seen':
      return words['labour not seen'](finding, locale)
  }
}

function notesOf(finding: Finding, locale: string): string[] {
  if (finding.code !== 'seen' && finding.code !== 'not seen') return []
  const { certainty, everyWay, exploratory } = finding
  const number = (value: number) => formatNumber(value, locale, 2)
  const steps = certainty.steps.map((step) => words.steps[step]).join(', ')
  return [
    `${words.aboutPlots(certainty.plots)}${steps === '' ? '' : ` ${words.because}${steps}.`}`,
    words.aboutMethod,
    words.everyWay(everyWay.sameOrder, everyWay.counted, number(everyWay.low), number(everyWay.high)),
    ...(everyWay.turning.length > 0
      ? [words.turned(everyWay.turning.map((rule) => words.rules[rule]).join(', '))]
      : []),
    ...(exploratory ? [words.exploratory] : []),
  ]
}

function gapRow(
  record: TrialRecord,
  seasonId: string,
  referenceId: string,
  other: { id: string; name: string },
  locale: string,
) {
  const gap = whyTheGap(record, seasonId, { methodA: referenceId, methodB: other.id })
  if (gap.kind === 'refused') return { method: other.name, cells: null }
  const signed = (value: number) => {
    const rounded = Math.round(value * 100) / 100 + 0
    return `${rounded > 0 ? '+' : ''}${formatNumber(rounded, locale, 2)}`.replace('-', '−')
  }
  const parts = [gap.crudeB - gap.crudeA, gap.intensity, gap.mix, gap.growth, gap.onlyB, -gap.onlyA]
  return { method: other.name, cells: parts.map(signed) }
}

function seasonsTable(
  record: TrialRecord,
  seasonIds: readonly string[],
  referenceId: string,
  others: readonly { id: string; name: string }[],
  locale: string,
) {
  const number = (log: number) => formatNumber(Math.exp(log), locale, 2)
  const columns = others.map((other) => overSeasons(record, seasonIds, { methodA: referenceId, methodB: other.id }))
  const cell = (column: (typeof columns)[number], seasonId: string) => {
    const season = column.kind === 'answer' ? column.seasons.find((one) => one.seasonId === seasonId) : undefined
    return season ? number(season.logRatio) : null
  }
  const contrast = columns.map((column) =>
    column.kind === 'answer' && column.contrast.kind === 'answer' ? column.contrast : null,
  )
  return {
    methods: others.map((other) => other.name),
    rows: seasonIds.map((id) => ({
      season: record.seasons.find((season) => season.id === id)?.name ?? '',
      cells: columns.map((column) => cell(column, id)),
    })),
    means: contrast.map((one) => (one ? number(one.estimate) : null)),
    intervals: contrast.map((one) => (one ? `${number(one.low)}–${number(one.high)}` : null)),
  }
}
