import { keysOf } from '../../lookups/keys.ts'
import { asShown, linkOf, nameIfAny } from '../../lookups/unsaid.ts'
import type { IsoDate } from '../../quantities/dates.ts'
import { lockedLate } from '../../seasons/locked-late.ts'
import type { Burden } from '../matched/burdens.ts'
import { oneGardenAMethod } from '../matched/laid-out.ts'
import { type CountingRules, type Pair, plainRules } from '../matched/matched-season.ts'
import { seasonsAmong, type TrialRecord } from '../record/trial-record.ts'
import type { Caution } from './cautions.ts'
import { explained } from './explained.page.ts'
import { type Finding, findingsByPair, findingsOfPair, type PairFindings } from './findings.ts'
import { isNamed } from './pairs-asked.ts'
import { seasonsTable } from './seasons-table.page.ts'

/** The season's question as it was locked, with the day. */
export interface Question {
  readonly question: string
  readonly referenceId: string
  /** The pairs that it names; none: every other method beside its reference. */
  readonly pairs: readonly Pair[]
  readonly primaryMeasure: string
  readonly seasonsToLookAt: number
  readonly sentenceIfSeen: string
  readonly sentenceIfNotSeen: string
  readonly rules: CountingRules
  readonly lockedOn: IsoDate
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

/** What was found and what else can fool, in codes and figures; why, and the ratio of every season. */
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
  // Another reference is another question than the one that was fixed, unless it names its pairs.
  const prior = early && (early.pairs.length > 0 || early.referenceId === referenceId) ? early : null
  const pairsNamed = prior?.pairs ?? []
  const marginPercent = prior?.marginPercent ?? null
  const asked = { seasonIds, referenceId, questionLocked: prior !== null, pairsNamed, rules, marginPercent }
  const byPair = findingsByPair(record, asked)
  const found = byPair.flatMap((one) => one.findings)
  const elsewhere = pairsNamed.filter((one) => one.methodA !== referenceId && one.methodB !== referenceId)
  const others = record.methods.filter((one) => one.id !== referenceId && assigned(record, seasonIds).has(one.id))
  const widened = byPair.map(({ pair, asked: isAsked, comparisons }) => ({
    id: pair.methodB,
    name: nameOf(record, pair.methodB),
    asked: isAsked,
    comparisons,
  }))
  // A question that names its pairs is answered by all of them and by no other, whichever method they stand beside.
  const answering = [
    ...byPair.filter((one) => pairsNamed.length === 0 || isNamed(one.pair, pairsNamed)).flatMap((one) => one.findings),
    ...elsewhere.flatMap((pair) => findingsOfPair(record, pair, { ...asked, others: others.length })),
  ]
  return {
    reference: nameOf(record, referenceId),
    referenceId,
    others: widened,
    /** Pairs that the question names and that are not beside this reference. */
    elsewhere: elsewhere.map(({ methodA, methodB }) => ({
      method: nameOf(record, methodB),
      beside: nameOf(record, methodA),
    })),
    /** The figures themselves, for those who read them by program. */
    found,
    byPair,
    questionLocked: prior !== null,
    rules,
    otherwise: prior !== null && keysOf(matched).some((key) => fixed[key] !== matched[key]),
    answerFound: question && answerOf(question, answering, prior !== null),
    sharedFound: [
      ...sharedNotes(found, prior, {
        pairs: pairsNamed.length || others.length,
        oneGarden: oneGardenAMethod(record, seasonIds),
      }),
      ...sealedNote(record, seasonIds),
    ],
    cautionsFound: cautionsOfAll(byPair),
    ...explained(record, seasonIds, { referenceId, others, locale, currency }),
    seasons: seasonIds.length > 1 ? seasonsTable(record, seasonIds, referenceId, widened, { locale, rules }) : null,
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
export type AnswerFound = Pick<Question, 'question' | 'lockedOn'> &
  (
    | { readonly state: 'asked late' }
    | { readonly state: 'not yet'; readonly seasons: number; readonly of: number }
    | { readonly state: 'answered'; readonly sentence: string }
  )

function answerOf(question: Question, found: readonly Finding[], asked: boolean): AnswerFound {
  const about = { question: question.question, lockedOn: question.lockedOn }
  if (!asked) return { ...about, state: 'asked late' }
  const burden = burdenAsked[question.primaryMeasure]
  const own = found.filter((one) =>
    burden === undefined ? answersWeights.has(one.code) : 'burden' in one && one.burden === burden,
  )
  const seasons = Math.max(0, ...own.map((one) => ('seasons' in one ? one.seasons : 0)))
  if (own.length === 0 || seasons < question.seasonsToLookAt)
    return { ...about, state: 'not yet', seasons, of: question.seasonsToLookAt }
  const seen = own.some((one) => one.code.endsWith('seen') && !one.code.endsWith('not seen'))
  return { ...about, state: 'answered', sentence: seen ? question.sentenceIfSeen : question.sentenceIfNotSeen }
}

function firstMethod(record: TrialRecord, seasonIds: readonly string[]): string {
  const there = assigned(record, seasonIds)
  return linkOf(record.methods.find((method) => there.has(method.id))?.id)
}

const assigned = (record: TrialRecord, seasonIds: readonly string[]) =>
  new Set(record.assignments.filter((one) => seasonIds.includes(one.seasonId)).map((one) => one.methodId))

const nameOf = (record: TrialRecord, id: string) => nameIfAny(record.methods.find((method) => method.id === id))

/** What holds of every finding on the page, once. */
export type SharedNote =
  | { readonly code: 'aboutMethod' | 'methodNotCarried' | 'exploratory' }
  | { readonly code: 'widened' | 'manyPairs'; readonly pairs: number }
  | { readonly code: 'sealed'; readonly count: number }

function sharedNotes(
  found: readonly Finding[],
  question: Question | null,
  { pairs, oneGarden }: { readonly pairs: number; readonly oneGarden: boolean },
): SharedNote[] {
  const tested = found.some((one) => 'level' in one)
  const notes: SharedNote[] = []
  if (found.length > 0 && !found.some((one) => 'layout' in one || one.code === 'places say nothing'))
    notes.push({ code: oneGarden ? 'aboutMethod' : 'methodNotCarried' })
  if (!tested) return notes
  if (question === null && pairs <= 1) notes.push({ code: 'exploratory' })
  if (pairs > 1) notes.push({ code: question === null ? 'manyPairs' : 'widened', pairs })
  return notes
}

function sealedNote(record: TrialRecord, seasonIds: readonly string[]): SharedNote[] {
  const here = record.seasons.filter((season) => seasonIds.includes(season.id))
  const count = here.reduce((sum, season) => sum + season.sealed, 0)
  return count === 0 ? [] : [{ code: 'sealed', count }]
}

/** A caution that holds of several pairs is one sentence. */
function cautionsOfAll(byPair: readonly PairFindings[]): { caution: Caution; methods: string[] }[] {
  const byWords = new Map<string, { caution: Caution; methods: string[] }>()
  for (const { cautions, findings } of byPair) {
    const method = asShown(findings[0]?.methodB)
    for (const caution of cautions) {
      const key = JSON.stringify(caution)
      const held = byWords.get(key) ?? { caution, methods: [] }
      byWords.set(key, { caution, methods: [...held.methods, method] })
    }
  }
  return [...byWords.values()]
}
