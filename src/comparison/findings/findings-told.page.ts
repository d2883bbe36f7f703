import { formatNumber } from '../../quantities/formatting.ts'
import type { Words } from '../../words/catalogue.ts'
import { languageFor, saidIn, wordsFor } from '../../words/locales.ts'
import { aboutNotes } from './about-notes.page.ts'
import { countedOtherwise } from './counted-otherwise.page.ts'
import type { FindingShown, findingsPage } from './findings.page.ts'
import type { Finding } from './findings.ts'
import { leftOutSeasons } from './rests-on.page.ts'
import { saidOnce } from './said-once.page.ts'

type Said = Partial<ReturnType<typeof findingsPage>>

/** Findings as they were kept, told again from their figures in the language of the group where that is not English. */
export function findingsTold<S extends Said>(said: S, locale: string): S {
  if (languageFor(locale) === 'en' || !said.found || !said.findings) return said
  const words = wordsFor(locale).findings
  const findings = said.found.map(
    (finding, i): FindingShown => ({
      ...said.findings?.[i],
      sentence: sentenceOf(finding, words, locale),
      notes: notesOf(finding, words, locale),
    }),
  )
  const again = (lines: readonly string[] | undefined) => lines?.map((line) => saidIn(locale, line))
  const reference = said.reference ?? ''
  const cautions = said.cautionsFound?.map((one) => words.caution(one.caution, reference, one.methods, locale))
  const lines = { shared: again(said.shared), answer: again(said.answer), cautions: cautions ?? said.cautions }
  return { ...said, findings: saidOnce(said.found, findings, words), ...lines }
}

type FindingWords = Words['findings']

function sentenceOf(finding: Finding, words: FindingWords, locale: string): string {
  if ('layout' in finding) return words.aboutMethods(finding, locale)
  if ('about' in finding && finding.about.of === 'methods')
    return words.burdenOfMethods({ ...finding, ...finding.about }, locale)
  const say = words[finding.code] as (finding: Finding, locale: string) => string
  return say(finding, locale)
}

function notesOf(finding: Finding, words: FindingWords, locale: string): string[] {
  if (finding.code === 'nothing matched' || finding.code === 'failed season') return []
  if (finding.code === 'places say nothing' || 'divided' in finding) return []
  const number = (value: number) => formatNumber(value, locale, 2)
  if (finding.code === 'one season') {
    const { missing: weeks } = finding
    return [
      ...(weeks.kind === 'ends' ? [words.missingRange(number(weeks.low), number(weeks.high))] : []),
      ...(weeks.kind === 'cannot be said' ? [words.missingUnknown] : []),
      ...leftOutSeasons(finding.restsOn, words, locale),
      ...(finding.leavingOut ? [words.cropsOnce(number(finding.cropsOnce))] : []),
    ]
  }
  if ('layout' in finding) {
    const { failed, allIn } = finding
    const failures = failed > 0 ? [words.failedUnits(failed, number(allIn))] : []
    const open = finding.weeksOpen ? [words.methodWeeksOpen] : []
    const weeks = [...open, ...missing(finding, words, number)]
    // Reports of earlier releases kept no seasons here.
    const left = 'restsOn' in finding ? leftOutSeasons(finding.restsOn, words, locale) : []
    return [...aboutNotes(finding, words), ...weeks, ...left, ...failures]
  }
  return [
    ...[...sureness(finding, words), ...missing(finding, words, number)],
    ...('restsOn' in finding ? leftOutSeasons(finding.restsOn, words, locale) : []),
    ...countedOtherwise(finding, words, locale),
  ]
}

type Tested = Extract<Finding, { readonly everyWay: unknown }>

function sureness(finding: Tested, words: FindingWords): string[] {
  const sure = 'about' in finding ? finding.about : { of: 'plots' as const, certainty: finding.certainty }
  if (sure.of === 'methods') return aboutNotes({ ...sure, seasons: finding.seasons }, words)
  const { plots, steps } = sure.certainty
  const reasons = steps.map((step) => words.steps[step]).join(', ')
  return [`${words.aboutPlots(plots)}${reasons === '' ? '' : ` ${words.because}${reasons}.`}`]
}

function missing(
  { missing: weeks }: Pick<Tested, 'missing'>,
  words: FindingWords,
  number: (value: number) => string,
): string[] {
  if (weeks.kind === 'none open') return []
  if (weeks.kind === 'cannot be said') return [words.missingUnknown]
  return [words.missingEnds(number(weeks.low), number(weeks.high), weeks.survives)]
}
