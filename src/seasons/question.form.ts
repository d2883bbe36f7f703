import { z } from 'zod'
import { nth } from '../lookups/nth.ts'
import { choice, optional, text, uuid, wholeNumber } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'

/** The crops that the answer rests on; none ticked is every matched crop. */
const crops = z.preprocess((typed) => [typed ?? []].flat().filter((one) => one !== ''), z.array(text({ most: 80 })))

/** Two methods each, by their ids; none ticked is every other method beside the reference. */
const pairs = z.preprocess(
  (typed) => [typed ?? []].flat().filter((one) => one !== ''),
  z.array(text({ most: 80 })).transform((typed, context) =>
    typed.map((one) => {
      const ids = z.array(z.uuid()).length(2).safeParse(one.split(' '))
      if (ids.success) return { methodA: nth(ids.data, 0), methodB: nth(ids.data, 1) }
      context.addIssue({ code: 'custom', message: wordsHere().fields.notChosen })
      return z.NEVER
    }),
  ),
)

export const questionForm = z.object({
  id: uuid(),
  /** Of the draft that was opened; blank where there was none yet. */
  version: optional(wholeNumber({ least: 1, most: 1_000_000 })),
  question: text({ most: 500 }),
  referenceMethodId: uuid(),
  primaryMeasure: choice(['matched yield', 'hours per m2', 'hours per kg', 'cost per kg']),
  weights: choice(['marketable', 'all']),
  mix: choice(['pooled areas', 'equal parts']),
  outsideLosses: choice(['counted', 'set left out']),
  crops,
  pairs,
  marginPercent: optional(wholeNumber({ least: 1, most: 200 })),
  seasonsToLookAt: wholeNumber({ least: 1, most: 30 }),
  sentenceIfSeen: text({ most: 500 }),
  sentenceIfNotSeen: text({ most: 500 }),
})
