import { z } from 'zod'
import { choice, optional, text, uuid, wholeNumber } from '../web/fields.ts'

/** The crops that the answer rests on; none ticked is every matched crop. */
const crops = z.preprocess((typed) => [typed ?? []].flat().filter((one) => one !== ''), z.array(text({ most: 80 })))

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
  marginPercent: optional(wholeNumber({ least: 1, most: 200 })),
  seasonsToLookAt: wholeNumber({ least: 1, most: 30 }),
  sentenceIfSeen: text({ most: 500 }),
  sentenceIfNotSeen: text({ most: 500 }),
})
