import { z } from 'zod'
import { optionalText, uuid } from '../web/fields.ts'

const cell = z.string().max(200).optional()

/** A sheet as it is typed: blank cells are left out where its rows are read. */
export const sheetForm = z.object({
  id: uuid(),
  who: optionalText({ most: 80 }),
  surely: z.string().optional(),
  weights: z
    .record(z.uuid(), z.object({ day: cell, good: cell, bad: cell, why: cell, pieces: cell }))
    .optional()
    .transform((given) => Object.entries(given ?? {})),
  hours: z
    .record(z.uuid(), z.record(z.string().max(60), z.string().max(200)))
    .optional()
    .transform((given) => Object.entries(given ?? {})),
})

export type Sheet = z.output<typeof sheetForm>
