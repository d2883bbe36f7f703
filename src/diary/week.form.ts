import { z } from 'zod'
import {
  choice,
  date,
  labour,
  optional,
  optionalDate,
  optionalText,
  text,
  uuid,
  weight,
  wholeNumber,
} from '../web/fields.ts'
import { catalogue } from '../words/catalogue.ts'
import { taskNames } from './tasks.ts'

const words = catalogue.diary
const phase = choice(['established', 'establishing'])

export const hoursForm = z.object({
  id: uuid(),
  gardenId: z.union([uuid(), z.literal('all')], words.fields.garden),
  task: choice(taskNames),
  time: labour(),
  phase,
  workedOn: optionalDate(),
})

const weighed = (unit: 'kg' | 'lb') => ({
  id: uuid(),
  harvestedOn: date(),
  marketable: optional(weight(unit)),
  unmarketable: optional(weight(unit)),
  why: optionalText({ most: 40 }),
  containerId: optional(uuid()),
  surely: z.string().optional(),
})

export const harvestForm = (unit: 'kg' | 'lb') => z.object({ ...weighed(unit), plantingId: uuid() })

export const sharedHarvestForm = (unit: 'kg' | 'lb') =>
  z.object({
    ...weighed(unit),
    plantingIds: z.preprocess(
      (typed) => (Array.isArray(typed) ? typed : [typed].filter(Boolean)),
      z.array(uuid()).min(2, words.needTwo),
    ),
  })

export const lossForm = z.object({
  id: uuid(),
  plantingId: uuid(),
  lostOn: date(),
  percent: wholeNumber({ least: 1, most: 100 }),
  cause: choice([
    'pest',
    'disease',
    'weather',
    'weeds',
    'germination',
    'water',
    'animals',
    'people',
    'seed',
    'unknown',
  ]),
  alsoNextDoor: choice(['no', 'yes', 'not grown']),
})

export const containerForm = (unit: 'kg' | 'lb') =>
  z.object({ id: uuid(), name: text({ most: 40 }), tareG: weight(unit) })

const what = choice(['hours', 'weights'])
export const closingForm = z.object({ gardenId: uuid(), what })
export const reopeningForm = z.object({ gardenId: uuid(), what, reason: text({ most: 300 }) })

/** "harvests:<id>" */
export const removalForm = z.object({
  entry: z.string(words.entry).regex(/^(labour|harvests|losses):[0-9a-f-]{36}$/, catalogue.fields.notChosen),
  reason: text({ most: 300 }),
})
