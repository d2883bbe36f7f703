import { z } from 'zod'
import { choice, optional, wholeNumber } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'

const guess = z
  .object({
    way: choice(['more', 'less', 'alike']),
    percent: optional(wholeNumber({ least: 1, most: 900 })),
  })
  .superRefine(({ way, percent }, context) => {
    const say = (message: string) => context.addIssue({ code: 'custom', path: ['percent'], message })
    if (way !== 'alike' && percent === null) say(wordsHere().fields.missing)
    // A percentage that is missing is refused by its own field.
    if (way === 'less' && (percent ?? 0) > 99) say(wordsHere().guesses.lessThanAll)
  })
  // The same.
  .transform(({ way, percent }) => (way === 'alike' ? 0 : way === 'less' ? -(percent ?? 0) : (percent ?? 0)))

/** By method: how many per cent more than the reference, below zero for less. */
export const guessForm = z.object({
  guesses: z.record(z.uuid(), guess, { error: () => wordsHere().guesses.allOfThem }),
})
