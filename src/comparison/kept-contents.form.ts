import { z } from 'zod'
import { figureUnits } from './matched/first-table.ts'

const words = z.string().max(2000)
const figures = z.number()
const cells = z.array(z.union([z.string().max(10_000), z.number(), z.null()]))
const limit = z.enum(['so far', 'at least', 'weeks open']).nullable()
const key = z.enum(Object.keys(figureUnits) as [keyof typeof figureUnits])

const isKnown = (make: (name: string) => unknown) => (name: string) => {
  try {
    make(name)
    return true
  } catch {
    return false
  }
}

const page = z.looseObject({
  oneGardenAMethod: z.boolean(),
  methods: z.array(words),
  rows: z.array(
    z.looseObject({
      key,
      cells: z.array(
        z.looseObject({
          figure: words.nullable(),
          limit,
          rests: z.looseObject({ on: z.enum(['area', 'kg', 'weeks']), text: words, count: figures, all: figures }),
        }),
      ),
    }),
  ),
  coverage: z.array(z.looseObject({ hoursClosed: figures, weightsClosed: figures, weeks: figures })),
  matched: z.array(z.looseObject({ crop: words, cells: z.array(words) })),
  commonMix: z.array(words),
  currency: words,
  said: z.looseObject({}).optional(),
  replicated: z.looseObject({}).nullish(),
})

const table = z.looseObject({
  season: words.nullable(),
  methods: z.array(
    z.looseObject({
      methodId: words,
      method: words,
      figures: z.array(
        z.looseObject({ key, numerator: figures, denominator: figures, value: figures.nullable(), limit }),
      ),
    }),
  ),
  matched: z.array(
    z.looseObject({ crop: words, byMethod: z.array(z.looseObject({ methodId: words, kgPerM2: figures })) }),
  ),
  commonMix: z.array(z.looseObject({ methodId: words, kgPerM2: figures })),
})

/**
 * What a frozen report keeps, as far as its page and its files rest on it: the shape of every table and of what says whose it
 * is. Words inside are escaped where they are shown, and may be any. Reports of earlier releases have less.
 */
export const keptContentsForm = z.looseObject({
  page,
  table,
  tables: z.record(words, z.array(cells)).optional(),
  units: z.record(words, words),
  group: words,
  locale: words.refine(isKnown((locale) => new Intl.NumberFormat(locale))),
  timeZone: words.refine(isKnown((timeZone) => new Intl.DateTimeFormat('en', { timeZone }))),
  currency: words.refine(isKnown((currency) => new Intl.NumberFormat('en', { style: 'currency', currency }))),
  told: z
    .looseObject({
      gardens: z.array(z.looseObject({ garden: words, site: words, methods: z.array(words) })),
      methods: z.array(z.looseObject({ method: words, workingRules: z.string().max(100_000) })),
    })
    .optional(),
  seasons: z.array(words).optional(),
  pictures: z.array(z.looseObject({})).optional(),
})

/** The rows behind a report, by table: the names of the columns first. */
export const keptRowsForm = z.record(words, z.array(cells)).nullable()
