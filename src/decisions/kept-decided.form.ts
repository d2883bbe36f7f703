import { z } from 'zod'
import { expectedMeasures } from './expectation.ts'

const words = z.string().max(5000)
const perhaps = words.nullable()
const thousandths = z.number().int()

const happened = z.discriminatedUnion('kind', [
  z.looseObject({ kind: z.literal('no season') }),
  z.looseObject({ kind: z.literal('season open'), season: words }),
  z.looseObject({ kind: z.literal('cannot'), season: words, why: words }),
  z.looseObject({
    kind: z.literal('happened'),
    season: words,
    value: z.number(),
    limit: z.literal('at least').nullable(),
  }),
])

const figure = z.looseObject({
  of: z.looseObject({
    measure: z.enum(expectedMeasures),
    expectedThousandths: thousandths,
    lowThousandths: thousandths.nullable(),
    highThousandths: thousandths.nullable(),
    besideMethodId: perhaps,
  }),
  names: z.looseObject({ season: perhaps, method: perhaps, beside: perhaps, ground: perhaps, input: perhaps }),
  happened,
})

/** What a frozen report keeps of decisions, as far as its page rests on it; one without them has none. */
export const keptDecidedForm = z.looseObject({
  decided: z
    .array(
      z.looseObject({
        decidedOn: z.iso.date(),
        decision: words,
        finding: words,
        expected: words,
        question: perhaps,
        assumptions: perhaps,
        address: perhaps,
        happened: perhaps,
        figure: figure.nullable(),
      }),
    )
    .optional(),
})
