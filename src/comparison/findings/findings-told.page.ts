import { asShown } from '../../lookups/unsaid.ts'
import { formatDay, formatNumber } from '../../quantities/formatting.ts'
import type { Words } from '../../words/catalogue.ts'
import { wordsFor } from '../../words/locales.ts'
import { aboutNotes } from './about-notes.page.ts'
import type { BurdenFinding } from './burden-finding.ts'
import { countedOtherwise } from './counted-otherwise.page.ts'
import type { AnswerFound, findingsPage, SharedNote } from './findings.page.ts'
import type { Finding, MethodFinding } from './findings.ts'
import { leftOutSeasons } from './rests-on.page.ts'
import { saidOnce } from './said-once.page.ts'
import type { MissingWeeks, YieldFinding } from './yield-finding.ts'

export interface FindingShown {
  readonly sentence: string
  readonly notes: readonly string[]
  /** Its entry on the page of how figures are made. */
  readonly entry?: string
}

interface Told {
  readonly findings: readonly FindingShown[]
  readonly answer: readonly string[]
  readonly shared: readonly string[]
  readonly cautions: readonly string[]
}

type Found = ReturnType<typeof findingsPage>
type FindingWords = Words['findings']

/**
 * Findings as sentences in the language of a locale: the one place where codes and figures become words. Of a report
 * that was frozen before it kept codes, what it kept as sentences stands as it was said then.
 */
export function findingsTold<S extends Found>(said: S & Partial<Told>, locale: string): S & Told {
  const words = wordsFor(locale)
  const { found, sharedFound, answerFound, cautionsFound, reference, elsewhere } = said as Partial<Found>
  const also = elsewhere?.map(({ method, beside }) => words.question.elsewhere(method, beside)) ?? []
  const shown = found?.map((one) => ({
    sentence: sentenceOf(one, locale),
    notes: notesOf(one, words.findings, locale),
    entry: entryOf(one),
  }))
  return {
    ...said,
    findings: shown && found ? saidOnce(found, shown, words.findings) : (said.findings ?? []),
    shared: [...(sharedFound?.map((one) => sharedSaid(one, words.findings, locale)) ?? said.shared ?? []), ...also],
    answer: answerFound ? answerSaid(answerFound, words.question, locale) : (said.answer ?? []),
    cautions:
      cautionsFound?.map((one) => words.findings.caution(one.caution, asShown(reference), one.methods, locale)) ??
      said.cautions ??
      [],
  }
}

function answerSaid(found: AnswerFound, words: Words['question'], locale: string): string[] {
  const day = formatDay(found.lockedOn, locale)
  if (found.state === 'asked late') return [words.askedLate(found.question, day)]
  const asked = words.asked(found.question, day)
  return [asked, found.state === 'not yet' ? words.notYet(found.seasons, found.of) : words.answer(found.sentence)]
}

function sharedSaid(note: SharedNote, words: FindingWords, locale: string): string {
  if (note.code === 'sealed') return words.sealed(formatNumber(note.count, locale, 0))
  return 'pairs' in note ? words[note.code](note.pairs) : words[note.code]
}

export function sentenceOf(finding: Finding, locale: string): string {
  const words = wordsFor(locale).findings
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

function notesOf(finding: Finding, words: FindingWords, locale: string): string[] {
  if (finding.code === 'nothing matched' || finding.code === 'failed season') return []
  if (finding.code === 'places say nothing' || 'divided' in finding) return []
  if (finding.code === 'one season')
    return [
      ...missingNote(finding.missing, words, (value) => formatNumber(value, locale, 2), true),
      ...leftOutSeasons(finding.restsOn, words, locale),
      ...(finding.leavingOut ? [words.cropsOnce(formatNumber(finding.cropsOnce, locale, 2))] : []),
    ]
  if ('layout' in finding) return methodNotes(finding, words, locale)
  const number = (value: number) => formatNumber(value, locale, 2)
  return [
    ...sureNotes(finding, words),
    ...missingNote(finding.missing, words, number),
    ...('restsOn' in finding ? leftOutSeasons(finding.restsOn, words, locale) : []),
    ...countedOtherwise(finding, words, locale),
  ]
}

function sureNotes(finding: YieldFinding | BurdenFinding, words: FindingWords): string[] {
  const sure = 'about' in finding ? finding.about : { of: 'plots' as const, certainty: finding.certainty }
  if (sure.of === 'methods') return aboutNotes({ ...sure, seasons: finding.seasons }, words)
  const { plots, steps } = sure.certainty
  const because = steps.map((step) => words.steps[step]).join(', ')
  return [`${words.aboutPlots(plots)}${because === '' ? '' : ` ${words.because}${because}.`}`]
}

function methodNotes(finding: MethodFinding, words: FindingWords, locale: string): string[] {
  return [
    ...aboutNotes(finding, words),
    ...(finding.weeksOpen ? [words.methodWeeksOpen] : []),
    ...missingNote(finding.missing, words, (value) => formatNumber(value, locale, 2)),
    // Reports of earlier releases kept no seasons here.
    ...('restsOn' in finding ? leftOutSeasons(finding.restsOn, words, locale) : []),
    ...(finding.failed > 0 ? [words.failedUnits(finding.failed, formatNumber(finding.allIn, locale, 2))] : []),
  ]
}

function missingNote(
  missing: MissingWeeks,
  words: FindingWords,
  number: (value: number) => string,
  described = false,
): string[] {
  if (missing.kind === 'none open') return []
  if (missing.kind === 'cannot be said') return [words.missingUnknown]
  const { low, high, survives } = missing
  return [
    described ? words.missingRange(number(low), number(high)) : words.missingEnds(number(low), number(high), survives),
  ]
}
