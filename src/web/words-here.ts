import type { Words } from '../words/catalogue.ts'
import { wordsFor } from '../words/locales.ts'
import { localeOfWords } from './reading-in.ts'

/** The words of the group whose request this is; English where there is none. */
export const wordsHere = (): Words => wordsFor(localeOfWords())
