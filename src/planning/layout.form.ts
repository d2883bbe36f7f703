import { z } from 'zod'
import type { AreaUnit } from '../quantities/areas.ts'
import { begun } from '../seasons/seasons.form.ts'
import { area, choice, date, optionalText, text, uuid } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'
import { type Way, ways } from './laying.ts'

const words = () => wordsHere().layout

const several = z.preprocess(
  (typed) => [typed ?? []].flat(),
  z.array(uuid()).transform((ids) => [...new Set(ids)]),
)

/** What a layout is made from; the same words in the address of its preview and in the form that keeps it. */
export const wantedForm = z
  .looseObject({ way: choice(ways), seed: optionalText({ most: 40 }).optional(), methods: several, places: several })
  .transform(({ way, seed = null, methods, places, ...rest }) => ({
    way,
    seed,
    methods,
    places,
    to: chosenIn(rest),
    since: begunIn(rest),
  }))
  .refine(({ way, methods }) => !isAmongSeveral(way) || methods.length > 1, {
    error: () => words().twoMethods,
    path: ['methods'],
  })
  .refine(({ way, methods }) => way !== 'draw strip' || methods.length === 1, {
    error: () => words().oneMethod,
    path: ['methods'],
  })
  .refine(({ way, to }) => way !== 'by hand' || to.size > 0, { error: () => words().noPlace, path: ['to'] })

const isAmongSeveral = (way: Way) => !['by hand', 'as before', 'draw strip'].includes(way)

export type LayoutWanted = z.infer<typeof wantedForm>

/** "to-<place>" names the method of a place; what is no id on either side is left out. */
function chosenIn(rest: Record<string, unknown>): Map<string, string> {
  const pairs = Object.entries(rest).flatMap(([name, value]) => {
    const place = name.startsWith('to-') ? z.uuid().safeParse(name.slice(3)) : undefined
    const method = z.uuid().safeParse(value)
    return place?.success && method.success ? [[place.data, method.data] as const] : []
  })
  return new Map(pairs)
}

/** "since-<place>" is the year in which the method was begun there; what is no year is left out. */
function begunIn(rest: Record<string, unknown>): Map<string, number> {
  const pairs = Object.entries(rest).flatMap(([name, value]) => {
    const place = name.startsWith('since-') ? z.uuid().safeParse(name.slice(6)) : undefined
    const year = begun().safeParse(value)
    return place?.success && year.success ? [[place.data, year.data] as const] : []
  })
  return new Map(pairs)
}

export const partingForm = (unit: AreaUnit) =>
  z.object({ id: uuid(), bedId: uuid(), name: text({ most: 40 }), areaCm2: area(unit) })

export const stripForm = (unit: AreaUnit) =>
  z.object({
    id: uuid(),
    cropId: uuid(),
    cultivar: text({ most: 80 }),
    seedLot: text({ most: 80 }),
    areaCm2: area(unit),
    how: choice(['direct', 'transplanted']),
    sownOn: date(),
    beds: z
      .record(z.string(), z.string(), { error: () => words().everyGarden })
      .transform((beds) => Object.values(beds).filter((bed) => bed !== ''))
      .pipe(z.array(uuid())),
  })

/** "block-<bed>" names the block of a bed; blank: it lies in none. */
export const blocksForm = z.looseObject({}).transform((typed) => {
  const pairs = Object.entries(typed).flatMap(([name, value]) => {
    const bed = name.startsWith('block-') ? z.uuid().safeParse(name.slice(6)) : undefined
    const block = optionalText({ most: 40 }).safeParse(value)
    return bed?.success && block.success ? [[bed.data, block.data] as const] : []
  })
  return new Map(pairs)
})
