import { z } from 'zod'
import { area, choice, date, optionalText, text, uuid, wholeNumber } from '../web/fields.ts'
import { catalogue } from '../words/catalogue.ts'

const words = catalogue.seasons

export const seasonForm = z
  .object({ id: uuid(), name: text({ most: 80 }), startsOn: date(), endsOn: date() })
  .refine((season) => season.endsOn > season.startsOn, { error: words.endFirst, path: ['endsOn'] })

export const assignmentForm = z
  .object({
    id: uuid(),
    gardenId: uuid(),
    methodId: uuid(),
    phase: choice(['establishing', 'established']),
    yearOfMethod: wholeNumber({ least: 1, most: 200 }),
    how: choice(['choice', 'random', 'rotation']),
    randomSeed: optionalText({ most: 80 }),
  })
  .refine((given) => given.how !== 'random' || given.randomSeed !== null, {
    error: words.randomNeedsSeed,
    path: ['randomSeed'],
  })

export const plantingsForm = (unit: 'm2' | 'ft2') =>
  z.object({
    id: uuid(),
    cropId: uuid(),
    cultivar: text({ most: 80 }),
    areaCm2: area(unit),
    sownOn: date(),
    beds: z
      .record(z.string(), z.string())
      .transform((beds) => Object.values(beds).filter((bed) => bed !== ''))
      .refine((beds) => beds.length > 0, words.noBedChosen)
      .pipe(z.array(uuid())),
  })

export const clearingForm = z.object({ plantingId: uuid(), clearedOn: date() })
