import { z } from 'zod'
import { readDecimal } from '../quantities/decimals.ts'
import { choice, wholeNumber } from '../web/fields.ts'
import { localeOfReading } from '../web/reading-in.ts'
import { wordsHere } from '../web/words-here.ts'
import { planKinds } from './plan.ts'

const words = () => wordsHere().nextSeason

/** A share in per cent, up to 500, as a factor on the log scale. */
const percent = (least = 1) =>
  z.string().transform((text, context) => {
    const read = readDecimal(text.replace('%', ''), localeOfReading())
    if (read.kind === 'answer' && read.value >= least && read.value <= 500) return read.value
    context.addIssue({ code: 'custom', message: words().notPercent })
    return z.NEVER
  })

export const planForm = z.object({
  kind: choice(planKinds),
  n: wholeNumber({ least: 1, most: 60 }),
  crops: wholeNumber({ least: 1, most: 60 }),
  seasons: wholeNumber({ least: 1, most: 20 }),
  matters: percent(),
  garden: percent(),
  half: percent(),
  gardenBySeason: percent(),
  methodBySeason: percent(0),
  cropByGarden: percent(),
  residual: percent(),
})
