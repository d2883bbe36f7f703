import { z } from 'zod'
import { type FigureKey, figureKeys } from './totals/figures.ts'

const words = z.string().max(2000)
const figures = z.number()
const cells = z.array(z.union([z.string().max(10_000), z.number(), z.null()]))
const limit = z.enum(['so far', 'at least', 'weeks open']).nullable()
const key = z.enum(figureKeys as [FigureKey])

const isKnown = (make: (name: string) => unknown) => (name: string) => {
  try {
    make(name)
    return true
  } catch {
    return false
  }
}

const level = z.enum(['very low', 'low', 'moderate', 'high'])
const certainty = z.union([level, z.looseObject({ plots: level })]).optional()
const ofPair = { code: words, methodA: words, methodB: words, gardensA: z.array(words), gardensB: z.array(words) }

/** A finding with a range, or one without: what the lines of a report read of it. */
const finding = z.union([
  z.looseObject({
    ...ofPair,
    ratio: figures,
    low: figures,
    high: figures,
    seasons: figures,
    certainty,
    missing: z.looseObject({ kind: words }),
    about: z.looseObject({ of: z.enum(['plots', 'methods']), certainty }).optional(),
  }),
  z.looseObject({ ...ofPair, low: z.undefined().optional(), ratio: figures.nullish() }),
])

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
  said: z.looseObject({ found: z.array(finding).optional() }).optional(),
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

const beside = z.array(
  z.looseObject({ name: words, ratio: figures.nullable(), low: figures.nullable(), high: figures.nullable() }),
)
const measure = z.enum(['weight', 'work', 'cost'])
const step = z.enum([
  ...(['few seasons', 'two seasons', 'few matched crops', 'weeks open', 'no question beforehand'] as const),
  ...(['wide interval', 'changed after closing', 'missing weeks turn it'] as const),
])
/** The codes and figures of the sentences on top. */
const summary = z.looseObject({
  reference: words,
  others: figures,
  title: z.array(measure),
  measures: z.array(
    z.looseObject({
      measure,
      reference: words,
      more: beside,
      less: beside,
      alike: beside,
      untold: beside,
      open: beside,
      unsayable: beside,
      described: beside,
      failed: beside,
      refused: z.array(words),
      seasons: figures,
      limit: z.enum(['these people', 'own crops', 'few seasons', 'one season']).nullable(),
      carriedBy: z.array(z.looseObject({ name: words, crops: z.array(words) })),
    }),
  ),
  sure: z.looseObject({
    levels: z.array(level),
    methods: z.array(level),
    oneGarden: z.boolean(),
    because: step.nullable(),
    wholeSeasons: z.looseObject({ work: figures, cost: figures }),
  }),
  rests: z.looseObject({
    seasons: figures,
    crops: figures,
    plantings: figures,
    closed: figures,
    weeks: figures,
  }),
  prices: z.array(z.looseObject({ name: words, price: figures, low: figures, high: figures })),
  settle: z
    .looseObject({ seasons: z.union([figures, z.enum(['over sixty', 'not by seasons'])]).nullable(), gardens: figures })
    .nullable(),
})

/**
 * What a frozen report keeps, as far as its page and its files rest on it: the shape of every table and of what says
 * whose it is. Words inside are escaped where they are shown, and may be any. Reports of earlier releases have less.
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
  summary: summary.optional(),
})

/** The rows behind a report, by table: the names of the columns first. */
export const keptRowsForm = z.record(words, z.array(cells)).nullable()
