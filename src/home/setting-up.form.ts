import { z } from 'zod'
import { type BedsSaid, readBeds } from '../gardens/beds-said.ts'
import { sent } from '../lookups/unsaid.ts'
import type { AreaUnit } from '../quantities/areas.ts'
import { begun } from '../seasons/seasons.form.ts'
import { area, date, optional, optionalDate, said, text, uuid } from '../web/fields.ts'
import { fieldsOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'

const words = () => wordsHere().settingUp
const mostRows = 40

/** A row of which no cell is filled in is not there. */
const isBlank = (row: unknown) => Object.values(fieldsOf(row)).every((cell) => sent(cell).trim() === '')

/** The rows that are filled in, each under the number of its line, so that what is wrong is said at its cell. */
function filledRows<T>(row: z.ZodType<T>, nothing: { readonly cell: string; readonly say: () => string }) {
  return z
    .preprocess(
      (typed) => Object.fromEntries(Object.entries(fieldsOf(typed)).filter(([, one]) => !isBlank(one))),
      z.record(z.string().regex(/^\d{1,2}$/), row),
    )
    .superRefine((rows, context) => {
      const message = Object.keys(rows).length > mostRows ? words().tooMany(mostRows) : nothing.say()
      const count = Object.keys(rows).length
      if (count === 0 || count > mostRows) context.addIssue({ code: 'custom', path: ['0', nothing.cell], message })
    })
}

const beds = (unit: AreaUnit) =>
  z.string(said((w) => w.missing)).transform((typed, context): BedsSaid => {
    const found = readBeds(typed, unit)
    if (found.kind === 'answer') return found.value
    const message = found.reason === 'empty' ? wordsHere().fields.missing : words().notBeds
    context.addIssue({ code: 'custom', message })
    return z.NEVER
  })

/** Whether the beds have room in their garden. */
const roomForBeds = (
  given: { readonly grossAreaCm2: number; readonly beds: BedsSaid },
  context: z.core.$RefinementCtx,
) => {
  // An area that was not typed is refused by its own field.
  if (given.beds.count * (given.beds.areaCm2 ?? 0) > given.grossAreaCm2) {
    context.addIssue({ code: 'custom', path: ['beds'], message: words().bedsTooLarge })
  }
}

const gardenRow = (unit: AreaUnit) =>
  z
    .object({
      name: text({ most: 80 }),
      method: text({ most: 80 }),
      since: optional(begun()).optional(),
      grossAreaCm2: area(unit),
      beds: beds(unit),
    })
    .superRefine(roomForBeds)

export const gardensForm = (unit: AreaUnit) =>
  z.object({
    id: uuid(),
    /** Whether all stand on one soil and exposure. */
    ground: z.enum(['one', 'apart'], { error: () => words().noGround }),
    rows: filledRows(gardenRow(unit), { cell: 'name', say: () => words().noGarden }),
  })

const cropRow = (unit: AreaUnit) =>
  z
    .object({
      crop: text({ most: 80 }),
      cultivar: text({ most: 80 }),
      sownOn: optionalDate(),
      plantedOn: optionalDate().optional(),
      areaCm2: optional(area(unit)).optional(),
    })
    .superRefine((given, context) => {
      const say = (path: string, message: string) => context.addIssue({ code: 'custom', path: [path], message })
      const planted = given.plantedOn ?? null
      if (given.sownOn === null && planted === null) say('sownOn', wordsHere().seasons.sownOrPlanted)
      if (given.sownOn && planted && planted < given.sownOn) say('plantedOn', wordsHere().seasons.plantedFirst)
    })

export const firstSeasonForm = (unit: AreaUnit) =>
  z
    .object({
      id: uuid(),
      startsOn: date(),
      endsOn: date(),
      /** By garden: the method on it, and since when where that was said. */
      lies: z.record(uuid(), z.object({ methodId: uuid(), since: optional(begun()).optional() })),
      rows: filledRows(cropRow(unit), { cell: 'crop', say: () => words().noCrop }),
    })
    .superRefine(({ startsOn, endsOn, rows }, context) => {
      const say = (path: string[], message: string) => context.addIssue({ code: 'custom', path, message })
      if (endsOn <= startsOn) say(['endsOn'], wordsHere().seasons.endFirst)
      for (const [at, row] of Object.entries(rows)) {
        const cell = row.sownOn ? 'sownOn' : 'plantedOn'
        if ((row.sownOn ?? row.plantedOn ?? startsOn) > endsOn) say(['rows', at, cell], wordsHere().seasons.dayOutside)
      }
    })
