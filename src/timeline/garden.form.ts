import { z } from 'zod'
import { date, optionalDate, optionalText, text, uuid } from '../web/fields.ts'
import { catalogue } from '../words/catalogue.ts'

export const closureForm = z
  .object({
    id: uuid(),
    bedId: uuid(),
    fromDay: date(),
    toDay: optionalDate(),
    why: text({ most: 300 }),
    material: optionalText({ most: 80 }),
  })
  .refine((given) => given.toDay === null || given.toDay >= given.fromDay, {
    error: catalogue.seasons.endFirst,
    path: ['toDay'],
  })
