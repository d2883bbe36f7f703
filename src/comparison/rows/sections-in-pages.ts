import { type InPages, inPages } from '../../lookups/in-pages.ts'

/** The sections of the page whose rows come in pages: a season of a busy garden has thousands. */
export const sectionsInPages = ['ground', 'plantings', 'hours', 'costs', 'losses', 'weeks', 'entries'] as const
export type SectionInPages = (typeof sectionsInPages)[number]

/** Which section is shown alone and which of its pages, from 1 on; without a section the first page of each. */
export interface PageAsked {
  readonly section: SectionInPages | null
  readonly page: number
}

/** The page of a section that is asked for, and its first where another section is. */
export const pageOfSection = <T>(rows: readonly T[], section: SectionInPages, asked: PageAsked): InPages<T> =>
  inPages(rows, asked.section === section ? asked.page : 1)
