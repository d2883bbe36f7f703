import { z } from 'zod'
import { choice, uuid, wholeNumber } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'
import { planKinds } from './plan.ts'

/** A plan that goes into a season: its layout is drawn for two methods, and its question asks of that pair. */
export const writePlanForm = z
  .object({
    seasonId: uuid(),
    referenceId: uuid(),
    methodId: uuid(),
    kind: choice(planKinds),
    seasons: wholeNumber({ least: 1, most: 20 }),
    matters: wholeNumber({ least: 1, most: 200 }),
  })
  .refine((given) => given.referenceId !== given.methodId, {
    error: () => wordsHere().nextSeason.twoMethods,
    path: ['methodId'],
  })
