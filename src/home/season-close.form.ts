import { z } from 'zod'
import { causes } from '../diary/week.form.ts'
import { choice, date, uuid, wholeNumber } from '../web/fields.ts'
import { fieldsOf } from '../web/query-of.ts'

export const versionForm = z.object({ version: wholeNumber({ least: 1, most: 1_000_000 }) })

/** All weeks of one garden that are open, for its hours or its weights; or of all gardens, for both. */
export const closeWeeksForm = z.union([
  z.object({ gardenId: z.literal('all'), what: z.literal('all') }),
  z.object({ gardenId: uuid(), what: choice(['hours', 'weights']) }),
])

/** Of each planting that is named what was filled in; what was left blank is not there. */
const filledIn = <T>(value: z.ZodType<T>) =>
  z.preprocess(
    (typed) => Object.fromEntries(Object.entries(fieldsOf(typed)).filter(([, one]) => String(one).trim() !== '')),
    z.record(uuid(), value),
  )

/** The day on which each planting was cleared. */
export const clearingsForm = z.object({ days: filledIn(date()) })

/** Why nothing came off each planting that was cleared with nothing weighed. */
export const causesForm = z.object({ causes: filledIn(choice(causes)) })
