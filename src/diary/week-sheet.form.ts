import { z } from 'zod'
import { optionalText, uuid } from '../web/fields.ts'
import { states } from './state.ts'

const cell = z.string().max(200).optional()
const rows = <R extends z.ZodType>(key: z.ZodType<string, string>, row: R) =>
  z
    .record(key, row)
    .optional()
    .transform((given) => Object.entries(given ?? {}) as [string, z.output<R>][])

const several = (key: z.ZodType<string, string>) =>
  z
    .preprocess((sent) => [sent ?? []].flat(), z.array(key).max(500))
    .transform((chosen): ReadonlySet<string> => new Set(chosen))

const weight = z.object({
  good: cell,
  /** Of the number alone, where a pad has no letters. */
  unit: z.enum(['', 'kg', 'g', 'lb']).optional(),
  bad: cell,
  why: cell,
  day: cell,
  crate: cell,
  pieces: cell,
  /** Other plantings whose harvest lay in the same crate; divided by area, or as is ticked by plants. */
  with: several(z.uuid()),
  byPlants: cell,
  /** Blank: in the state that its crop counts. */
  state: z.enum(['', ...states]).optional(),
  lifted: cell,
  /** The cause, where it is lost: all that stood, or the part of it that is said, in per cent. */
  lost: cell,
  part: cell,
  /** Of a twin that is not weighed yet: still to come, or nothing there. */
  twin: z.enum(['', 'later', 'none']).optional(),
  surely: cell,
})

const time = z.object({
  time: cell,
  /** Hours and minutes in fields of their own, for a pad without a colon. */
  h: cell,
  m: cell,
  place: cell,
  day: cell,
  people: cell,
  effort: cell,
  load: cell,
  /** Of work over several gardens: which ones, all where none is ticked; in equal parts where that is ticked. */
  over: several(z.uuid()),
  equal: cell,
  surely: cell,
})

const loss = z.object({
  planting: cell,
  day: cell,
  percent: cell,
  cause: cell,
  nextDoor: cell,
  outside: cell,
  surely: cell,
})
/** One loss, or one clearing, of several plantings at once. */
const many = z.object({
  plantings: several(z.uuid()),
  percent: cell,
  cause: cell,
  day: cell,
  outside: cell,
  nextDoor: cell,
  cleared: cell,
  surely: cell,
})
const came = z.object({ input: cell, quantity: cell, price: cell, day: cell, surely: cell })
const spread = z.object({
  load: cell,
  place: cell,
  /** Ground beside the place, where one load went over several: "bed:<id>" or "garden:<id>". */
  over: several(z.string().regex(/^(bed|garden):[0-9a-f-]{36}$/)),
  quantity: cell,
  day: cell,
  depth: cell,
})

/** The sheet of a week as it is sent: every cell under the id of what it is of, as text. */
export const weekSheetForm = z.object({
  id: uuid(),
  /** The day of all weights that do not say another. */
  day: cell,
  who: optionalText({ most: 80 }),
  source: z
    .enum(['field', 'paper'])
    .optional()
    .transform((given) => given ?? 'field'),
  w: rows(z.uuid(), weight),
  l: rows(z.string().regex(/^[A-Z]{2}[2-9]$/), weight),
  /** By garden, or by garden and method where it is parted; "all" for all gardens. */
  h: z
    .record(z.string().regex(/^(all|[0-9a-f-]{36}(\.[0-9a-f-]{36})?)$/), z.record(z.string().max(60), time))
    .optional()
    .transform((given) => Object.entries(given ?? {})),
  loss: rows(z.string().regex(/^line[1-9]$/), loss),
  many: many.optional(),
  came: came.optional(),
  spread: spread.optional(),
  /** Gardens by id, or "all" of them. */
  closeWeights: several(z.string().regex(/^(all|[0-9a-f-]{36})$/)),
  closeHours: several(z.string().regex(/^(all|[0-9a-f-]{36})$/)),
  reopenWeights: several(z.uuid()),
  reopenHours: several(z.uuid()),
  reason: optionalText({ most: 300 }),
  /** What the button that was pressed asks for: to save, or only to show more rows with all that is typed. */
  to: z.string().max(60).optional(),
  find: z.string().max(80).optional(),
})

export type WeekSheet = z.output<typeof weekSheetForm>
export type WeightCell = z.output<typeof weight>
export type TimeCell = z.output<typeof time>
export type LossLine = z.output<typeof loss>
