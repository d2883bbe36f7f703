import { z } from 'zod'
import { optionalText, uuid } from '../web/fields.ts'

const cell = z.string().max(200).optional()

const weighing = z.object({ day: cell, good: cell, bad: cell, why: cell, pieces: cell })
const loss = z.object({ planting: cell, day: cell, share: cell, cause: cell, nextDoor: cell })

export type CellsOfWeighing = z.output<typeof weighing>

const rowsBy = <R extends z.ZodType>(key: z.ZodType<string, string>, row: R) =>
  z
    .record(key, row)
    .optional()
    .transform((given) => Object.entries(given ?? {}) as [string, z.output<R>][])

/** A sheet as it is typed: weights by planting and by sealed label, losses by line; blank rows are left out where they are read. */
export const sheetForm = z.object({
  id: uuid(),
  who: optionalText({ most: 80 }),
  phase: z.string().max(40).optional(),
  surely: z.string().optional(),
  weights: rowsBy(z.uuid(), weighing),
  labelled: rowsBy(z.string().regex(/^[A-Z]{2}[2-9]$/), weighing),
  losses: rowsBy(z.string().regex(/^line[1-9]$/), loss),
  hours: z
    .record(z.uuid(), z.record(z.string().max(60), z.string().max(200)))
    .optional()
    .transform((given) => Object.entries(given ?? {})),
})

export type Sheet = z.output<typeof sheetForm>
