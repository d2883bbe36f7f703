import { z } from 'zod'
import { choice, uuid, wholeNumber } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'
import { chosenFields } from './next-season.form.ts'
import { planKinds } from './plan.ts'

/** A plan that goes into a season: its layout is drawn for these methods, and its question asks of each beside one. */
export const writePlanForm = z
  .object({
    ...chosenFields,
    seasonId: uuid(),
    referenceId: uuid(),
    kind: choice(planKinds),
    seasons: wholeNumber({ least: 1, most: 20 }),
    matters: wholeNumber({ least: 1, most: 200 }),
  })
  .superRefine(({ methods, referenceId }, context) => {
    const w = wordsHere().nextSeason
    const wrong = methods.length === 0 ? w.noMethods : methods.includes(referenceId) ? w.itself : null
    if (wrong !== null) context.addIssue({ code: 'custom', message: wrong, path: ['methods'] })
  })
