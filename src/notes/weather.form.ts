import { z } from 'zod'
import { date, optional, optionalText, printed, text } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'

const words = () => wordsHere().weather

/** Within what any station has measured; whole tenths. */
const tenths = (least: number, most: number) =>
  printed()
    .transform(Number)
    .refine((value) => value >= least && value <= most, { error: () => words().between(least, most) })
    .transform((value) => Math.round(10 * value))

export const weatherCorrection = z
  .object({
    minimumTenthsC: optional(tenths(-95, 65)),
    maximumTenthsC: optional(tenths(-95, 65)),
    rainTenthsMm: optional(tenths(0, 2000)),
  })
  .refine((given) => (given.minimumTenthsC ?? -Infinity) <= (given.maximumTenthsC ?? Infinity), {
    error: () => words().minimumOverMaximum,
    path: ['minimumTenthsC'],
  })
export type WeatherGiven = z.infer<typeof weatherCorrection>

export const mostLetters = 1_000_000

/** What is to be read: pasted, or a file whose text is put in its place. */
export const pastedForm = z.object({ station: text({ most: 80 }), pasted: optionalText({ most: mostLetters }) })

/** What a page of weather is asked to show, in its address. */
export const askedForm = z
  .object({
    station: optionalText({ most: 80 }),
    base: printed()
      .transform(Number)
      .refine((value) => value >= -20 && value <= 40, { error: () => words().between(-20, 40) }),
    from: optional(date()),
    to: optional(date()),
    season: optionalText({ most: 40 }),
  })
  .refine((given) => !given.from || !given.to || given.from <= given.to, {
    error: () => words().endFirst,
    path: ['to'],
  })
