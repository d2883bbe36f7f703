import { z } from 'zod'
import { said, text, uuid, weight } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'
import { harvestForm } from './week.form.ts'

const words = () => wordsHere().weighing

export const labelsForm = z.object({
  id: uuid(),
  plantingIds: z.preprocess(
    (typed) => (Array.isArray(typed) ? typed : [typed].filter(Boolean)),
    z
      .array(uuid())
      .min(1, { error: () => words().chooseOne })
      .max(500),
  ),
})

export const labelOffForm = z.object({ label: uuid(), reason: text({ most: 300 }) })

/** A weighing of which only the label is known. */
export const labelledForm = (unit: 'kg' | 'lb') =>
  harvestForm(unit)
    .omit({ plantingId: true })
    .extend({ label: text({ most: 3 }) })

const positive = (unit: 'kg' | 'lb') =>
  weight(unit).refine(
    (grams) => grams > 0,
    said((w) => w.moreThanNothing),
  )

export const secondReadingForm = (unit: 'kg' | 'lb') =>
  z.object({ id: uuid(), read: text({ most: 40 }), weighed: positive(unit) })

export const secondReadingCorrection = (unit: 'kg' | 'lb') => z.object({ weighed: positive(unit) })
