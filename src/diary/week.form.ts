import { z } from 'zod'
import {
  choice,
  date,
  labour,
  optional,
  optionalDate,
  optionalText,
  said,
  text,
  uuid,
  weight,
  wholeNumber,
} from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'
import { states } from './state.ts'
import { taskNames } from './tasks.ts'

const words = () => wordsHere().diary
const source = z
  .enum(['field', 'paper'])
  .optional()
  .transform((given) => given ?? 'field')

const ofHours = {
  id: uuid(),
  task: choice(taskNames),
  time: labour(),
  /** Where the time does not say it itself, as in "2 x 1:30". */
  people: optional(wholeNumber({ least: 1, most: 200 })),
  /** Blank: as the method lies there in that season. */
  phase: optional(choice(['established', 'establishing'])),
  workedOn: optionalDate(),
  /** Asked for where the day lies in no season. */
  seasonId: optional(uuid()),
  who: optionalText({ most: 80 }),
  effort: optional(wholeNumber({ least: 1, most: 5 })),
  /** The load that was carried or spread in this time. */
  deliveryId: optional(uuid()),
  source,
  surely: z.string().optional(),
}

const placed = z.string(said((w) => w.notChosen)).regex(
  /^(garden|bed|planting):[0-9a-f-]{36}$/,
  said((w) => w.notChosen),
)

export const hoursForm = z.object({
  ...ofHours,
  place: placed,
})

/** Each counts once, however often it was sent. */
const several = (say: () => string) =>
  z.preprocess(
    (typed) => (Array.isArray(typed) ? typed : [typed].filter(Boolean)),
    z
      .array(uuid())
      .max(500)
      .transform((chosen) => [...new Set(chosen)])
      .refine((chosen) => chosen.length >= 2, { error: say }),
  )

/** Shares by id; blank ones are left out. */
const shares = z
  .record(z.string(), z.string())
  .optional()
  .transform((typed) => Object.entries(typed ?? {}).filter(([, share]) => share.trim() !== ''))
  .pipe(z.array(z.tuple([z.string(), wholeNumber({ least: 0, most: 1_000_000 })])))
  .transform((given) => new Map(given))

export const sharedHoursForm = z.object({
  ...ofHours,
  gardenIds: several(() => words().needTwoGardens),
  shareRule: choice(['area', 'equal', 'given']),
  shares,
})

/** Blank: in the state that its crop counts, on the day it was lifted. */
const ofState = {
  state: optional(choice(states)),
  liftedOn: optionalDate(),
  sameLotAs: optional(uuid()),
  seedLot: optionalText({ most: 80 }),
}

const ofWeighing = (unit: 'kg' | 'lb') => ({
  id: uuid(),
  harvestedOn: date(),
  marketable: optional(weight(unit)),
  unmarketable: optional(weight(unit)),
  why: optionalText({ most: 40 }),
  containerId: optional(uuid()),
  pieces: optional(wholeNumber({ least: 1, most: 1_000_000 })),
  ...ofState,
  source,
  surely: z.string().optional(),
})

export const harvestForm = (unit: 'kg' | 'lb') => z.object({ ...ofWeighing(unit), plantingId: uuid() })

export const sharedHarvestForm = (unit: 'kg' | 'lb') =>
  z.object({
    ...ofWeighing(unit),
    plantingIds: several(() => words().needTwo),
    shareRule: choice(['area', 'plants', 'given']),
    shares,
  })

export const causes = [
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
] as const

const ofLoss = {
  lostOn: date(),
  percent: wholeNumber({ least: 1, most: 100 }),
  cause: choice(causes),
  outside: choice(['no', 'yes']).transform((given) => (given === 'yes' ? 1 : 0)),
  alsoNextDoor: choice(['no', 'yes', 'not grown']),
  note: optionalText({ most: 500 }),
}

export const lossForm = z.object({ id: uuid(), plantingId: uuid(), ...ofLoss, surely: z.string().optional() })

export const containerForm = (unit: 'kg' | 'lb') =>
  z.object({ id: uuid(), name: text({ most: 40 }), tareG: weight(unit) })

export const containerCorrection = (unit: 'kg' | 'lb') =>
  z.object({
    name: text({ most: 40 }),
    tareG: weight(unit),
    /** Weights before that day stay; blank: none do. */
    since: optionalDate(),
    surely: z.string().optional(),
  })

const what = choice(['hours', 'weights'])
export const closingForm = z.object({ gardenId: uuid(), what })
export const reopeningForm = z.object({ gardenId: uuid(), what, reason: text({ most: 300 }) })

/** "harvests:<id>" */
export const removalForm = z.object({
  entry: z.string({ error: () => words().entry }).regex(
    /^(labour|harvests|losses):[0-9a-f-]{36}$/,
    said((w) => w.notChosen),
  ),
  reason: text({ most: 300 }),
})

export const labourCorrection = z.object({
  place: placed.optional(),
  workedOn: optionalDate().optional(),
  task: ofHours.task,
  time: labour(),
  phase: ofHours.phase,
  who: ofHours.who,
  effort: ofHours.effort,
  deliveryId: ofHours.deliveryId,
})

/**
 * A weight as it was weighed: with its container, the net is reckoned anew. A field that is not sent stays as it was.
 */
export const harvestCorrection = (unit: 'kg' | 'lb') =>
  z.object({
    plantingId: uuid().optional(),
    harvestedOn: date().optional(),
    marketable: optional(weight(unit)),
    unmarketable: optional(weight(unit)),
    why: optionalText({ most: 40 }),
    containerId: optional(uuid()).optional(),
    pieces: ofWeighing(unit).pieces,
    state: ofState.state.optional(),
    liftedOn: ofState.liftedOn.optional(),
    sameLotAs: ofState.sameLotAs.optional(),
    seedLot: ofState.seedLot.optional(),
  })

export const lossCorrection = z.object({
  percent: ofLoss.percent,
  cause: ofLoss.cause,
  outside: ofLoss.outside,
  alsoNextDoor: ofLoss.alsoNextDoor,
  note: ofLoss.note,
})
