import { z } from 'zod'
import type { IsoDate } from '../quantities/dates.ts'
import { date, optional, optionalDate, optionalText, text, uuid, wholeNumber } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'

const ofClosure = () => ({
  fromDay: date(),
  toDay: optionalDate(),
  why: text({ most: 300 }),
  material: optionalText({ most: 80 }),
})

const inOrder = (given: { fromDay: IsoDate; toDay: IsoDate | null }) =>
  given.toDay === null || given.toDay >= given.fromDay
const endsFirst = { error: () => wordsHere().seasons.endFirst, path: ['toDay'] }

export const closureForm = z
  .object({ id: uuid(), bedId: uuid(), surely: z.string().optional(), ...ofClosure() })
  .refine(inOrder, endsFirst)

const shoots = () => optional(wholeNumber({ least: 0, most: 100_000 }))

/** What came up again is counted weeks after a bed was uncovered: before that there is nothing to count. */
export const closureCorrection = z
  .object({
    ...ofClosure(),
    regrowthAfter4Weeks: shoots(),
    regrowthAfter8Weeks: shoots(),
    regrowthAfter12Weeks: shoots(),
    regrowth: optionalText({ most: 300 }),
  })
  .refine(inOrder, endsFirst)
  .refine(
    (given) =>
      given.toDay !== null ||
      [given.regrowthAfter4Weeks, given.regrowthAfter8Weeks, given.regrowthAfter12Weeks].every((one) => one === null),
    { error: () => wordsHere().timeline.stillCovered, path: ['toDay'] },
  )
export type ClosureGiven = z.infer<typeof closureCorrection>
