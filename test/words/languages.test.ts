import { describe, expect, it } from 'vitest'
import { z } from 'zod'
import { date, text } from '../../src/web/fields.ts'
import { readForm } from '../../src/web/form.ts'
import { localeOfReading, localeOfWords, readingIn } from '../../src/web/reading-in.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { directionFor, languageFor, translations, wordsFor } from '../../src/words/locales.ts'

type Tree = Record<string, unknown>

/** Paths of all that is said, with what kind of thing it is. */
function leavesOf(tree: unknown, at = ''): Map<string, string> {
  if (typeof tree === 'function') return new Map([[at, `function of ${tree.length}`]])
  if (typeof tree !== 'object' || tree === null) return new Map([[at, typeof tree]])
  return new Map(Object.entries(tree).flatMap(([key, value]) => [...leavesOf(value, at ? `${at}.${key}` : key)]))
}

const missingIn = (english: Tree, own: Tree) => {
  const has = leavesOf(own)
  return [...leavesOf(english).keys()].filter((path) => !has.has(path))
}

/** What stands in English for now in a chapter that is translated otherwise; a chapter without a file is English as a whole. */
const notYet: Readonly<Record<string, readonly string[]>> = {
  de: ['measures.made', 'diary', 'question', 'seasons'],
}

/** Symbols, the name of the service, and a word that both languages have. */
const sameInBoth: Readonly<Record<string, readonly string[]>> = {
  de: [
    'account.passkeys.title',
    'account.passkeys.name',
    'replicated.anovaHead.4',
    'replicated.anovaHead.5',
    'reports.links',
    'shell.name',
    'shell.roomNames.plan',
    'side.none.reference',
    'week.quarter',
  ],
}

describe.each(Object.entries(translations))('the words in %s', (language, own) => {
  const begun = Object.fromEntries(Object.entries(catalogue).filter(([chapter]) => chapter in own))
  const allowed = notYet[language] ?? []
  const isAllowed = (path: string) => allowed.some((part) => path === part || path.startsWith(`${part}.`))

  it('are there for everything but what is known to be missing', () => {
    const missing = missingIn(begun, own as Tree)
    expect(missing.filter((path) => !isAllowed(path))).toEqual([])
    const stale = allowed.filter((part) => !missing.some((path) => path === part || path.startsWith(`${part}.`)))
    expect(stale).toEqual([])
  })

  it('say nothing that English does not, and take what English takes', () => {
    const english = leavesOf(catalogue)
    // A function that does without its last blanks is one all the same.
    const kind = (what = '') => what.split(' ')[0]
    const strange = [...leavesOf(own)].filter(([path, what]) => kind(english.get(path)) !== kind(what))
    expect(strange).toEqual([])
  })

  it('are not the English ones left standing', () => {
    const english = leavesOf(catalogue)
    const at = (tree: unknown, path: string) =>
      path.split('.').reduce<unknown>((part, key) => (part as Tree | undefined)?.[key], tree)
    const same = [...leavesOf(own)].filter(
      ([path, what]) => what === 'string' && english.has(path) && at(own, path) === at(catalogue, path),
    )
    expect(same.map(([path]) => path)).toEqual(sameInBoth[language])
  })
})

it('the check sees a key that is missing', () => {
  expect(missingIn({ a: { b: 'x', c: () => '' } }, { a: { b: 'y' } })).toEqual(['a.c'])
})

it('what is not translated stands in English, key by key', () => {
  const words = wordsFor('de-AT')
  expect(words.comparison.crop).toBe('Kultur')
  expect(words.question.title).toBe(catalogue.question.title)
  expect(words.gardens).toEqual(catalogue.gardens)
  expect(wordsFor('fr-FR')).toBe(catalogue)
  expect(['de-AT', 'fr-FR', 'en-NZ'].map(languageFor)).toEqual(['de-AT', 'en', 'en'])
})

it('what a form says is said in the language of whoever wrote in it, at the moment of reading', () => {
  const form = z.object({ name: text({ most: 120 }), day: date() })
  const said = (locale: string) => readingIn(locale, () => readForm(form, { name: 'x'.repeat(121), day: '' }))
  expect(said('de-DE')).toMatchObject({ errors: { name: 'Höchstens 120 Zeichen.', day: 'Bitte ausfüllen.' } })
  expect(said('en-NZ')).toMatchObject({ errors: { name: catalogue.fields.tooLong(120), day: 'Please fill this in.' } })
})

it('a file whose numbers are written otherwise is answered in the language of whoever brought it', () => {
  const inFile = () => [localeOfReading(), localeOfWords()]
  expect(readingIn('de-DE', () => readingIn('en-NZ', inFile))).toEqual(['en-NZ', 'de-DE'])
})

it('the direction follows the script of the locale', () => {
  const locales = ['ar-EG', 'he-IL', 'fa-IR', 'de-AT', 'en-NZ', 'az-Arab', 'az', 'ja-JP']
  expect(locales.map(directionFor)).toEqual(['rtl', 'rtl', 'rtl', 'ltr', 'ltr', 'rtl', 'ltr', 'ltr'])
})
