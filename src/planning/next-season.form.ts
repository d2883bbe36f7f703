import { z } from 'zod'
import { readDecimal } from '../quantities/decimals.ts'
import { choice, optional, uuid, wholeNumber } from '../web/fields.ts'
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

const mostChosen = 200

/** Boxes of one name: none, one or several, each once. */
const several = <T extends string>(one: z.ZodType<T, unknown>) =>
  z.preprocess(
    (typed) => (typed === undefined ? [] : [typed].flat()),
    z
      .array(one)
      .max(mostChosen, { error: () => wordsHere().fields.notChosen })
      .transform((all) => [...new Set(all)]),
  )

/** What of the group's own is meant; the same in the address of a plan and in the form that writes it. */
export const chosenFields = {
  methods: several(uuid()),
  gardens: several(uuid()),
  blocks: several(uuid()),
  cropNames: several(z.string().max(200)),
}

export const planForm = z.object({
  ...chosenFields,
  kind: choice(planKinds),
  n: optional(wholeNumber({ least: 1, most: 60 })),
  crops: optional(wholeNumber({ least: 1, most: 60 })),
  seasons: wholeNumber({ least: 1, most: 20 }),
  referenceId: optional(uuid()),
  question: optional(uuid()),
  matters: percent(),
  garden: percent(),
  half: percent(),
  gardenBySeason: percent(),
  methodBySeason: percent(0),
  cropByGarden: percent(),
  residual: percent(),
})
