import { sent } from '../lookups/unsaid.ts'
import { catalogue, type Words } from './catalogue.ts'
import { account } from './de/account.ts'
import { comparison } from './de/comparison.ts'
import { rowsBehind } from './de/comparison-rows.ts'
import { diary } from './de/diary.ts'
import { fields } from './de/fields.ts'
import { findings } from './de/findings.ts'
import { guesses } from './de/guesses.ts'
import { home } from './de/home.ts'
import { measures } from './de/measures.ts'
import { people } from './de/people.ts'
import { pictures } from './de/pictures.ts'
import { problem } from './de/problem.ts'
import { question } from './de/question.ts'
import { replicated } from './de/replicated.ts'
import { reports } from './de/reports.ts'
import { seasons } from './de/seasons.ts'
import { sheet } from './de/sheet.ts'
import { shell } from './de/shell.ts'
import { side } from './de/side.ts'
import { summary } from './de/summary.ts'
import { turning } from './de/turning.ts'
import { week } from './de/week.ts'
import { weighing } from './de/weighing.ts'
import { chapterOfPage, type PageName } from './page-chapters.ts'

/** Some of the words, in another language: functions take what the English ones take. */
type Translated<T> = T extends (...given: infer A) => string
  ? (...given: A) => string
  : T extends string
    ? string
    : { readonly [K in keyof T]?: Translated<T[K]> }

const german: Translated<Words> = {
  account,
  comparison,
  diary,
  fields,
  findings,
  guesses,
  home,
  measures,
  people,
  pictures,
  problem,
  question,
  replicated,
  reports,
  rowsBehind,
  seasons,
  sheet,
  shell,
  side,
  summary,
  turning,
  week,
  weighing,
}

/** Every language beside English, as far as it is translated. */
export const translations: Readonly<Record<string, Translated<Words>>> = { de: german }

const whole = new Map<string, Words>(
  Object.entries(translations).map(([language, own]) => [language, laidOver(catalogue, own) as Words]),
)

const languageOf = (locale: string) => locale.split('-')[0]?.toLowerCase() ?? 'en'

/** The words of a locale; what is not translated yet stands in English. */
export const wordsFor = (locale: string): Words => whole.get(languageOf(locale)) ?? catalogue

/** The language that the words of a locale are in: numbers and days may follow another. */
export const languageFor = (locale: string): string => (whole.has(languageOf(locale)) ? locale : 'en')

/** The language that a page is told in: where its chapter is not translated yet, it says that it is in English. */
export function languageOfPage(locale: string, page: PageName): string {
  const own = translations[languageOf(locale)]
  return own !== undefined && own[chapterOfPage[page]] === undefined ? 'en' : languageFor(locale)
}

const rightToLeft = ['Arab', 'Hebr', 'Syrc', 'Thaa', 'Nkoo', 'Adlm', 'Rohg']

/** The direction in which the script of a locale runs. */
export function directionFor(locale: string): 'ltr' | 'rtl' {
  return rightToLeft.includes(sent(new Intl.Locale(locale).maximize().script)) ? 'rtl' : 'ltr'
}

/** The other tree laid over the English one, key by key. */
function laidOver(english: unknown, own: unknown): unknown {
  if (own === undefined) return english
  if (typeof english !== 'object' || english === null || Array.isArray(english)) return own
  const entries = Object.entries(english).map(([key, value]) => [
    key,
    laidOver(value, (own as Record<string, unknown>)[key]),
  ])
  return Object.fromEntries(entries)
}
