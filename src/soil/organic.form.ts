import { z } from 'zod'
import { optional, printed, wholeNumber } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'

const words = () => wordsHere().soil.organic

const between = (least: number, most: number) =>
  printed()
    .transform(Number)
    .refine((value) => value >= least && value <= most, { error: () => words().between(least, most) })

/**
 * The assumptions of a scenario, as they stand in the address. At most 20 kg of organic dry matter a m2 and year: a
 * layer of some 15 cm of compost. A soil of solid mineral weighs 2.65 g/cm3, and the densest topsoil under 2.
 */
export const scenarioForm = z.object({
  brought: optional(between(0, 20_000)),
  organicShare: between(0, 100),
  humified: optional(between(0, 100)),
  decay: optional(between(0.01, 50)),
  bulkDensity: between(0.3, 2),
  years: wholeNumber({ least: 1, most: 300 }),
})
