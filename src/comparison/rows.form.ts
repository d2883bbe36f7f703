import { z } from 'zod'
import { pageNumber } from '../web/page-number.ts'
import { readAsked } from './compare.form.ts'
import { type PageAsked, sectionsInPages } from './rows/sections-in-pages.ts'

const longest = 300

/** What stands twice in an address is not asked for; what is too long for a name is the name of nothing. */
const words = z
  .string()
  .transform((value) => (value.length > longest ? '' : value))
  .optional()
  .catch(undefined)

const rowsForm = z.object({
  season: words,
  method: words,
  garden: words,
  bed: words,
  beside: words,
  crop: words,
  task: words,
  cause: words,
  outsideMethod: z.enum(['yes', 'no']).optional().catch(undefined),
  by: words,
  table: words,
  planting: words,
  /** A section alone, and which of its pages. */
  only: z.enum(sectionsInPages).optional().catch(undefined),
  page: pageNumber,
})

/** Reads which rows an address asks for, and by which rules they are counted. */
export function readRowsAsked(query: unknown) {
  const { outsideMethod, by, only, page, ...asked } = rowsForm.parse(query ?? {})
  const { measures, matched } = readAsked(query)
  const outside = outsideMethod === undefined ? undefined : outsideMethod === 'yes'
  const shown: PageAsked = { section: only ?? null, page }
  return { ...asked, outside, counted: by !== undefined, rules: measures, matched, shown }
}
