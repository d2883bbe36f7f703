import { AsyncLocalStorage } from 'node:async_hooks'

interface Locales {
  /** How numbers are written. */
  readonly numbers: string
  /** In which language what is said is said. */
  readonly words: string
}

const locales = new AsyncLocalStorage<Locales>()

/**
 * All that is typed within the work is read as numbers are written in that locale, and answered in its language; a
 * file whose numbers are written otherwise is answered in the language of whoever brought it.
 */
export const readingIn = <T>(where: string, work: () => T): T =>
  locales.run({ numbers: where, words: locales.getStore()?.words ?? where }, work)

/** Undefined outside of a group: there no number is typed that could be read in two ways. */
export const localeOfReading = (): string | undefined => locales.getStore()?.numbers

/** English outside of a group. */
export const localeOfWords = (): string => locales.getStore()?.words ?? 'en'
