import { formatDay, formatNumber } from '../../quantities/formatting.ts'
import { lockedLate } from '../../seasons/locked-late.ts'
import { findings as words } from '../../words/en/findings.ts'
import { question as questionWords } from '../../words/en/question.ts'
import type { Burden } from '../matched/burdens.ts'
import { oneGardenAMethod } from '../matched/laid-out.ts'
import { type CountingRules, plainRules } from '../matched/matched-season.ts'
import { seasonsAmong, type TrialRecord } from '../record/trial-record.ts'
import { aboutNotes } from './about-notes.page.ts'
import type { BurdenFinding } from './burden-finding.ts'
import type { Caution } from './cautions.ts'
import { countedOtherwise } from './counted-otherwise.page.ts'
import { explained } from './explained.page.ts'
import { type Finding, findingsByPair, type MethodFinding, type PairFindings } from './findings.ts'
import { leftOutSeasons } from './rests-on.page.ts'
import { saidOnce } from './said-once.page.ts'
import { seasonsTable } from './seasons-table.page.ts'
import type { MissingWeeks, YieldFinding } from './yield-finding.ts'

export interface FindingShown {
  readonly sentence: string
  readonly notes: readonly string[]
  /** Its entry on the page of how figures are made. */
  readonly entry?: string
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

interface Asked {
  readonly question: Question | null
  /** Rules that the address names beside those of the question, or the plain ones. */
  readonly matched?: Partial<CountingRules>
  /** The reference that the address names. */
  readonly referenceAsked?: string | undefined
  readonly locale: string
  readonly currency: string
}

/** Findings as sentences, what else can fool, why, and the ratio of every season. */
export function findingsPage(
  record: TrialRecord,
  seasonIds: readonly string[],
  { question, matched = {}, referenceAsked, locale, currency }: Asked,
) {
  const named = referenceAsked !== undefined && assigned(record, seasonIds).has(referenceAsked) ? referenceAsked : null
  const referenceId = named ?? question?.referenceId ?? firstMethod(record, seasonIds)
  const fixed = question?.rules ?? plainRules
  const rules = { ...fixed, ...matched }
  // A question that was locked late may have been asked of what was known: all of it is a look around, its margin too.
  const early = question && !lockedLate(question.lockedOn, seasonsAmong(record, seasonIds)) ? question : null
  // Another reference is another question than the one that was fixed.
  const prior = early?.referenceId === referenceId ? early : null
  const marginPercent = prior?.marginPercent ?? null
  const asked = { seasonIds, referenceId, questionLocked: prior !== null, rules, marginPercent }
  const byPair = findingsByPair(record, asked)
  const found = byPair.flatMap((one) => one.findings)
  const others = record.methods.filter((one) => one.id !== referenceId && assigned(record, seasonIds).has(one.id))
  const reference = nameOf(record, referenceId)
  const cautionsFound = cautionsOfAll(byPair)
  return {
    reference,
    referenceId,
    others: others.map(({ id, name }) => ({ id, name })),
    /** The figures themselves, for those who read them by program. */
    found,
    byPair,
    questionLocked: prior !== null,
    rules,
    otherwise:
      prior !== null && (Object.keys(matched) as (keyof CountingRules)[]).some((key) => fixed[key] !== matched[key]),
    answer: question && !prior ? [askedLate(question, locale)] : answerOf(prior, found, locale),
    findings: saidOnce(
      found,
      found.map((one) => ({ sentence: sentenceOf(one, locale), notes: notesOf(one, locale), entry: entryOf(one) })),
      words,
    ),
    shared: [
      ...sharedNotes(found, prior, { pairs: others.length, oneGarden: oneGardenAMethod(record, seasonIds) }),
      ...sealedNote(record, seasonIds, locale),
    ],
    cautions: cautionsFound.map((one) => words.caution(one.caution, reference, one.methods, locale)),
    /** What they were told from. */
    cautionsFound,
    ...explained(record, seasonIds, { referenceId, others, locale, currency }),
    seasons: seasonIds.length > 1 ? seasonsTable(record, seasonIds, referenceId, others, { locale, rules }) : null,
  }
}

/** Every other question is of the weights on matched crops. */
const burdenAsked: Readonly<Record<string, Burden | undefined>> = {
  'hours per m2': 'hoursPerBed',
  'hours per kg': 'hoursPerKg',
  'cost per kg': 'costPerKg',
}
const answersWeights = new Set<Finding['code']>(['seen', 'not seen', 'alike', 'method seen', 'method not seen'])

/** The question, and its own sentence once as many seasons stand as the group wanted to look at. */
function answerOf(question: Question | null, found: readonly Finding[], locale: string): string[] {
  if (!question) return []
  const asked = questionWords.asked(question.question, formatDay(question.lockedOn, locale))
  const burden = burdenAsked[question.primaryMeasure]
  const own = found.filter((one) =>
    burden === undefined ? answersWeights.has(one.code) : 'burden' in one && one.burden === burden,
  )
  const seasons = Math.max(0, ...own.map((one) => ('seasons' in one ? one.seasons : 0)))
  if (own.length === 0 || seasons < question.seasonsToLookAt)
    return [asked, questionWords.notYet(seasons, question.seasonsToLookAt)]
  const seen = own.some((one) => one.code.endsWith('seen') && !one.code.endsWith('not seen'))
  return [asked, questionWords.answer(seen ? question.sentenceIfSeen : question.sentenceIfNotSeen)]
}

const askedLate = ({ question, lockedOn }: Question, locale: string) =>
  questionWords.askedLate(question, formatDay(lockedOn, locale))

function firstMethod(record: TrialRecord, seasonIds: readonly string[]): string {
  const there = assigned(record, seasonIds)
  return record.methods.find((method) => there.has(method.id))?.id ?? ''
}

const assigned = (record: TrialRecord, seasonIds: readonly string[]) =>
  new Set(record.assignments.filter((one) => seasonIds.includes(one.seasonId)).map((one) => one.methodId))

const nameOf = (record: TrialRecord, id: string) => record.methods.find((method) => method.id === id)?.name ?? ''

export function sentenceOf(finding: Finding, locale: string): string {
  switch (finding.code) {
    case 'nothing matched':
      return words['nothing matched'](finding)
    case 'places say nothing':
      return words['places say nothing'](finding)
    case 'one season':
      return words['one season'](finding, locale)
    case 'failed season':
      return words['failed season'](finding, locale)
    case 'method seen':
    case 'method not seen':
      return words.aboutMethods(finding, locale)
    case 'seen':
    case 'not seen':
    case 'alike':
      return words[finding.code](finding, locale)
    case 'only divided':
      return words['only divided'](finding, locale)
    default:
      return finding.about.of === 'methods'
        ? words.burdenOfMethods({ ...finding, ...finding.about }, locale)
        : words[finding.code](finding, locale)
  }
}

const described = new Set<Finding['code']>(['one season', 'nothing matched', 'failed season'])

function entryOf(finding: Finding): string {
  if (described.has(finding.code)) return 'matched-ratio'
  if ('layout' in finding || finding.code === 'places say nothing') return 'layout'
  if ('divided' in finding) return finding.divided
  if ('burden' in finding) return finding.burden
  return finding.code === 'seen' ? 'over-seasons' : finding.code === 'alike' ? 'alike' : 'not-seen'
}

function notesOf(finding: Finding, locale: string): string[] {
  if (finding.code === 'nothing matched' || finding.code === 'failed season') return []
  if (finding.code === 'places say nothing' || 'divided' in finding) return []
  if (finding.code === 'one season')
    return [
      ...missingNote(finding.missing, (value) => formatNumber(value, locale, 2), true),
      ...leftOutSeasons(finding.restsOn, words, locale),
      ...(finding.leavingOut ? [words.cropsOnce(formatNumber(finding.cropsOnce, locale, 2))] : []),
    ]
  if ('layout' in finding) return methodNotes(finding, locale)
  const number = (value: number) => formatNumber(value, locale, 2)
  return [
    ...[...sureNotes(finding), ...missingNote(finding.missing, number)],
    ...('restsOn' in finding ? leftOutSeasons(finding.restsOn, words, locale) : []),
    ...countedOtherwise(finding, words, locale),
  ]
}

function sureNotes(finding: YieldFinding | BurdenFinding): string[] {
  const sure = 'about' in finding ? finding.about : { of: 'plots' as const, certainty: finding.certainty }
  if (sure.of === 'methods') return aboutNotes({ ...sure, seasons: finding.seasons }, words)
  const { plots, steps } = sure.certainty
  const because = steps.map((step) => words.steps[step]).join(', ')
  return [`${words.aboutPlots(plots)}${because === '' ? '' : ` ${words.because}${because}.`}`]
}

function methodNotes(finding: MethodFinding, locale: string): string[] {
  return [
    ...aboutNotes(finding, words),
    ...(finding.weeksOpen ? [words.methodWeeksOpen] : []),
    ...missingNote(finding.missing, (value) => formatNumber(value, locale, 2)),
    ...leftOutSeasons(finding.restsOn, words, locale),
    ...(finding.failed > 0 ? [words.failedUnits(finding.failed, formatNumber(finding.allIn, locale, 2))] : []),
  ]
}

function missingNote(missing: MissingWeeks, number: (value: number) => string, described = false): string[] {
  if (missing.kind === 'none open') return []
  if (missing.kind === 'cannot be said') return [words.missingUnknown]
  const { low, high, survives } = missing
  return [
    described ? words.missingRange(number(low), number(high)) : words.missingEnds(number(low), number(high), survives),
  ]
}

/** What holds of every finding on the page is said once. */
function sharedNotes(
  found: readonly Finding[],
  question: Question | null,
  { pairs, oneGarden }: { readonly pairs: number; readonly oneGarden: boolean },
): string[] {
  const tested = found.some((one) => 'level' in one)
  return [
    ...(found.length > 0 && !found.some((one) => 'layout' in one || one.code === 'places say nothing')
      ? [oneGarden ? words.aboutMethod : words.methodNotCarried]
      : []),
    ...(tested && question === null && pairs <= 1 ? [words.exploratory] : []),
    ...(tested && question !== null && pairs > 1 ? [words.widened(pairs)] : []),
    ...(tested && question === null && pairs > 1 ? [words.manyPairs(pairs)] : []),
  ]
}

function sealedNote(record: TrialRecord, seasonIds: readonly string[], locale: string): string[] {
  const here = record.seasons.filter((season) => seasonIds.includes(season.id))
  const count = here.reduce((sum, season) => sum + (season.sealed ?? 0), 0)
  return count === 0 ? [] : [words.sealed(formatNumber(count, locale, 0))]
}

/** A caution that holds of several pairs is one sentence. */
function cautionsOfAll(byPair: readonly PairFindings[]): { caution: Caution; methods: string[] }[] {
  const byWords = new Map<string, { caution: Caution; methods: string[] }>()
  for (const { cautions, findings } of byPair) {
    const method = findings[0]?.methodB ?? ''
    for (const caution of cautions) {
      const key = JSON.stringify(caution)
      const held = byWords.get(key) ?? { caution, methods: [] }
      byWords.set(key, { caution, methods: [...held.methods, method] })
    }
  }
  return [...byWords.values()]
}
