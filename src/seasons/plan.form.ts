import { z } from 'zod'
import type { AreaUnit } from '../quantities/areas.ts'
import { area, choice, date, optional, optionalText, text, uuid, wholeNumber } from '../web/fields.ts'
import { catalogue } from '../words/catalogue.ts'
import { purposes } from './seasons.form.ts'

const words = catalogue.plan

/** How many years a bed rests from a family: asked in the address of the plan. */
export const planAsked = z.object({ years: optional(wholeNumber({ least: 1, most: 20 })).optional() })

export const successionsForm = (unit: AreaUnit) =>
  z.object({
    id: uuid(),
    cropId: uuid(),
    cultivar: text({ most: 80 }),
    areaCm2: area(unit),
    how: choice(['direct', 'transplanted']),
    firstOn: date(),
    everyDays: wholeNumber({ least: 1, most: 365 }),
    standsDays: optional(wholeNumber({ least: 1, most: 1000 }))
      .optional()
      .transform((days) => days ?? null),
    times: wholeNumber({ least: 2, most: 30 }),
    spacing: optionalText({ most: 80 }),
    purpose: choice(purposes),
    seedLot: optionalText({ most: 80 }),
    beds: z
      .record(z.string(), z.string(), catalogue.seasons.noBedChosen)
      .transform((beds) => Object.values(beds).filter((bed) => bed !== ''))
      .refine((beds) => beds.length > 0, catalogue.seasons.noBedChosen)
      .pipe(z.array(uuid())),
  })

export type Successions = z.infer<ReturnType<typeof successionsForm>>

const line = z
  .string()
  .regex(/^[0-9a-f-]{36}:[0-9a-f-]{36}$/, words.carry.unreadable)
  .transform((pair) => pair.split(':'))
  .pipe(z.tuple([uuid(), uuid()]))
  .transform(([plantingId, bedId]) => ({ plantingId, bedId }))

/** "planting:bed,planting:bed": one long field, so that no count of lines is too many. */
export const carriedForm = z.object({
  id: uuid(),
  lines: z
    .string(words.carry.nothing)
    .min(1, words.carry.nothing)
    .transform((lines) => lines.split(','))
    .pipe(z.array(line)),
})

/**
 * What is asked in the address of the preview: "t" holds the numbers of the lines that are ticked, "b3" the number of the bed of
 * line 3. Numbers keep the address of a large season short; nothing is stored by them.
 */
export function linesAsked(query: Record<string, unknown>) {
  const whole = (value: unknown) => (typeof value === 'string' && /^\d{1,4}$/.test(value) ? [Number(value)] : [])
  const beds = Object.entries(query).flatMap(([name, value]) =>
    /^b\d{1,4}$/.test(name) ? whole(value).map((bed) => [Number(name.slice(1)), bed] as const) : [],
  )
  return { ticked: new Set([query.t ?? []].flat().flatMap(whole)), beds: new Map(beds) }
}
