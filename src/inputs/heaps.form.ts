import { z } from 'zod'
import { choice, date, decimal, optional, optionalDate, optionalText, text, uuid } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'
import { heapEvents } from './heap.ts'

const words = () => wordsHere().heaps

export const heapForm = z.object({
  id: uuid(),
  name: text({ most: 80 }),
  inputName: text({ most: 80 }),
  startedOn: date(),
})

export const heapEntryForm = z
  .object({
    id: uuid(),
    heapId: uuid(),
    day: date(),
    what: choice(heapEvents),
    words: optionalText({ most: 300 }),
    celsius: optional(decimal({ least: 0, most: 95 })),
  })
  .superRefine((given, context) => {
    const say = (path: string, message: string) => context.addIssue({ code: 'custom', path: [path], message })
    if (given.what === 'temperature' && given.celsius === null) say('celsius', wordsHere().fields.missing)
    if ((given.what === 'added' || given.what === 'note') && given.words === null) say('words', words().sayWhat)
  })
  .transform(({ celsius, ...given }) => ({ ...given, tenthsC: celsius === null ? null : Math.round(10 * celsius) }))

export const heapReadyForm = z.object({ heapId: uuid(), readyOn: date() })

export const heapCorrection = z
  .object({ name: text({ most: 80 }), startedOn: date(), readyOn: optionalDate() })
  .refine((given) => given.readyOn === null || given.readyOn >= given.startedOn, {
    error: () => words().readyFirst,
    path: ['readyOn'],
  })
