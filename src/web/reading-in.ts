import { AsyncLocalStorage } from 'node:async_hooks'

const locale = new AsyncLocalStorage<string>()

/** All that is typed within the work is read as numbers are written in that locale. */
export const readingIn = <T>(where: string, work: () => T): T => locale.run(where, work)

/** Undefined outside of a group: there no number is typed that could be read in two ways. */
export const localeOfReading = (): string | undefined => locale.getStore()
