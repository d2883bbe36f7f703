import { z } from 'zod'
import type { AreaUnit } from '../quantities/areas.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { area, choice, date, optional, optionalText, text, uuid, wholeNumber } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'
import { purposes } from './seasons.form.ts'

const words = () => wordsHere().plan

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
      .record(z.string(), z.string(), { error: () => wordsHere().seasons.noBedChosen })
      .transform((beds) => Object.values(beds).filter((bed) => bed !== ''))
      .refine((beds) => beds.length > 0, { error: () => wordsHere().seasons.noBedChosen })
      .pipe(z.array(uuid())),
  })

export type Successions = z.infer<ReturnType<typeof successionsForm>>

const line = z
  .string()
  .regex(/^[0-9a-f-]{36}:[0-9a-f-]{36}:\d{4}-\d{2}-\d{2}$/, { error: () => words().carry.unreadable })
  .transform((line) => line.split(':'))
  .pipe(z.tuple([uuid(), uuid(), date()]))
  .transform(([plantingId, bedId, day]) => ({ plantingId, bedId, day }))

/** "planting:bed:day,planting:bed:day": one long field, so that no count of lines is too many. */
export const carriedForm = z.object({
  id: uuid(),
  lines: z
    .string({ error: () => words().carry.nothing })
    .min(1, { error: () => words().carry.nothing })
    .transform((lines) => lines.split(','))
    .pipe(z.array(line)),
})

/**
 * What is asked in the address of the preview: "t" holds the numbers of the lines that are ticked, "b3" the number of
 * the bed of line 3 and "d3" its day; "first" the first day of sowing, and "w" the one that the days were shown by:
 * where it is another now, the days follow it. Numbers keep the address of a large season short; nothing is stored by
 * them.
 */
export function linesAsked(query: Record<string, unknown>) {
  const whole = (value: unknown) => (typeof value === 'string' && /^\d{1,4}$/.test(value) ? [Number(value)] : [])
  const dayIn = (value: unknown) => {
    const day = date().safeParse(value)
    return day.success ? [day.data] : []
  }
  const numbered = <T>(letter: string, read: (value: unknown) => readonly T[]) =>
    new Map(
      Object.entries(query).flatMap(([name, value]) => {
        const number = name.startsWith(letter) ? whole(name.slice(letter.length)) : []
        return number.flatMap((line) => read(value).map((one) => [line, one] as const))
      }),
    )
  const said = (value: unknown) => (typeof value === 'string' ? value : '')
  const follows = said(query.w) !== said(query.first)
  return {
    ticked: new Set([query.t ?? []].flat().flatMap(whole)),
    beds: numbered('b', whole),
    days: follows ? new Map<number, IsoDate>() : numbered('d', dayIn),
    first: dayIn(query.first)[0] ?? null,
  }
}
