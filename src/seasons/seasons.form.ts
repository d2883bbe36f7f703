import { z } from 'zod'
import type { AreaUnit } from '../quantities/areas.ts'
import { daysBetween, type IsoDate } from '../quantities/dates.ts'
import {
  area,
  choice,
  date,
  money,
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
import { isYearOfMethod } from './year-of-method.ts'

const words = () => wordsHere().seasons

const tick = () =>
  z
    .string()
    .optional()
    .transform((ticked) => (ticked === 'yes' ? 1 : 0))

const ofSeason = () => ({ name: text({ most: 80 }), startsOn: date(), endsOn: date(), isUniformYear: tick() })

/** Two years, one of them a leap year. The record itself refuses a longer one too. */
const mostDays = 731

const spanOfSeason = ({ startsOn, endsOn }: { startsOn: IsoDate; endsOn: IsoDate }, context: z.RefinementCtx) => {
  const say = (message: string) => context.addIssue({ code: 'custom', path: ['endsOn'], message })
  if (endsOn <= startsOn) say(words().endFirst)
  if (daysBetween(startsOn, endsOn) > mostDays) say(words().tooLong)
}

export const seasonForm = z.object({ id: uuid(), ...ofSeason() }).superRefine(spanOfSeason)

/** The year of the calendar in which a method was begun, or how many years it is there: 1 in the first. */
export const begun = () =>
  wholeNumber({ least: 1, most: 2200 }).refine(isYearOfMethod, { error: () => words().noSuchYear })

export const assignmentForm = z
  .object({
    id: uuid(),
    place: z.string(said((w) => w.notChosen)).regex(
      /^(garden|bed):[0-9a-f-]{36}$/,
      said((w) => w.notChosen),
    ),
    methodId: uuid(),
    phase: choice(['establishing', 'established']),
    yearOfMethod: begun(),
    how: choice(['choice', 'random', 'rotation']),
    randomSeed: optionalText({ most: 80 }),
    surely: z.string().max(10).optional(),
  })
  .refine((given) => given.how !== 'random' || given.randomSeed !== null, {
    error: () => words().randomNeedsSeed,
    path: ['randomSeed'],
  })

export const purposes = ['harvest', 'green manure', 'seed', 'guard row'] as const
const ways = ['direct', 'transplanted'] as const

const ofPlanting = (unit: AreaUnit) => ({
  areaCm2: area(unit),
  how: choice(ways),
  sownOn: optionalDate(),
  plantedOn: optionalDate(),
  standsUntil: optionalDate(),
  plants: optional(wholeNumber({ least: 1, most: 1_000_000 })),
  purpose: choice(purposes),
  seedLot: optionalText({ most: 80 }),
  spacing: optionalText({ most: 80 }),
  interplanted: tick(),
  raisedInBedId: optional(uuid()),
  standsOverSeasons: tick(),
  establishingSeasons: optional(wholeNumber({ least: 0, most: 30 })),
})

interface Days {
  readonly sownOn: IsoDate | null
  readonly plantedOn: IsoDate | null
  readonly clearedOn?: IsoDate | null
  readonly standsUntil?: IsoDate | null
  readonly standsOverSeasons: number
  readonly establishingSeasons?: number | null
  readonly how: string
  readonly raisedInBedId?: string | null
}

const daysInOrder = (given: Days, context: z.RefinementCtx) => {
  const say = (path: string, message: string) => context.addIssue({ code: 'custom', path: [path], message })
  const first = given.sownOn ?? given.plantedOn
  if (first === null) say('sownOn', words().sownOrPlanted)
  if (given.sownOn && given.plantedOn && given.plantedOn < given.sownOn) say('plantedOn', words().plantedFirst)
  if (first && given.standsUntil && given.standsUntil < first) say('standsUntil', words().clearedFirst)
  if (typeof given.establishingSeasons === 'number' && given.standsOverSeasons === 0)
    say('establishingSeasons', words().bearsAtOnce)
  if (given.raisedInBedId && given.how !== 'transplanted') say('raisedInBedId', words().raisedNowhere)
  if (first && given.clearedOn && given.clearedOn < first) say('clearedOn', words().clearedFirst)
}

export const plantingsForm = (unit: AreaUnit) =>
  z
    .object({
      id: uuid(),
      cropId: uuid(),
      cultivar: text({ most: 80 }),
      ...ofPlanting(unit),
      beds: z
        .record(z.string(), z.string())
        .transform((beds) => Object.values(beds).filter((bed) => bed !== ''))
        .refine((beds) => beds.length > 0, { error: () => words().noBedChosen })
        .pipe(z.array(uuid())),
    })
    .superRefine(daysInOrder)

export const plantingCorrection = (unit: AreaUnit) =>
  z
    .object({
      ...ofPlanting(unit),
      clearedOn: optionalDate(),
      matchedSetId: optional(uuid()),
      /** As they stand, where the form does not name them. */
      cropId: uuid().optional(),
      cultivar: text({ most: 80 }).optional(),
      bedId: uuid().optional(),
      seasonId: uuid().optional(),
      together: choice(['alone', 'together']).optional(),
    })
    .superRefine(daysInOrder)

export const seasonCorrection = z.object(ofSeason()).superRefine(spanOfSeason)

/** Blank: not known. */
const touchesSoil = () =>
  optional(choice(['yes', 'no'])).transform((given) => (given === null ? null : given === 'yes' ? 1 : 0))

/** States that count for yield, other than fresh from the bed. */
const weighedStates = ['trimmed', 'dried', 'from store'] as const

/** The season that an overwintering crop counts toward. */
const countsFor = ['planted', 'picked'] as const

export const cropForm = (currency: string, unit: 'kg' | 'lb') =>
  z.object({
    name: text({ most: 80 }),
    family: optionalText({ most: 80 }),
    priceMinorPerKg: optional(money(currency)),
    /** The day from which that price holds; blank: the one before it was wrong. */
    pricedFrom: optionalDate(),
    askAboveGPerM2: optional(weight(unit)),
    touchesSoil: touchesSoil(),
    weighedAs: optional(choice(weighedStates)),
    regrows: tick(),
    countsWhenPicked: choice(countsFor)
      .optional()
      .transform((given) => (given === 'picked' ? 1 : 0)),
    source: optionalText({ most: 300 }),
  })

export const newCropForm = z.object({
  id: uuid(),
  name: text({ most: 80 }),
  family: optionalText({ most: 80 }),
  touchesSoil: touchesSoil(),
})

export const matchedSetForm = z.object({
  id: uuid(),
  name: text({ most: 80 }),
  plantingIds: z.preprocess(
    (typed) => (Array.isArray(typed) ? typed : [typed].filter(Boolean)),
    z.array(uuid()).min(2, { error: () => words().setNeedsTwo }),
  ),
})

export const clearingForm = z.object({ plantingId: uuid(), clearedOn: date() })
