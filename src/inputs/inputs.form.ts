import { z } from 'zod'
import type { IsoDate } from '../quantities/dates.ts'
import {
  choice,
  date,
  decimal,
  depth,
  measured,
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
import { asElements } from './nutrients.ts'

const words = () => wordsHere().inputs

export const inputKinds = [
  'compost',
  'mulch',
  'manure',
  'amendment',
  'seed',
  'plants',
  'cover',
  'fuel',
  'hire',
  'water',
  'other',
] as const

const ownMade = () => choice(['bought', 'own']).transform((made) => made === 'own')
const usefulLife = () => wholeNumber({ least: 1, most: 100 })

/** Blank: not said. Of manure it must be said, since harvest waits for raw manure. */
const rawManure = () => optional(choice(['no', 'raw', 'partly rotted']))

const ofAnalysis = {
  moisture: optional(decimal({ least: 0, most: 100 })),
  densityKgPerM3: optional(wholeNumber({ least: 1, most: 20_000 })),
  basis: optional(choice(['element', 'oxide'])),
  nitrogen: optional(decimal({ least: 0, most: 100 })),
  phosphorus: optional(decimal({ least: 0, most: 100 })),
  potassium: optional(decimal({ least: 0, most: 100 })),
  source: optionalText({ most: 300 }),
}

interface AnalysisTyped {
  readonly moisture: number | null
  readonly densityKgPerM3: number | null
  readonly basis: 'element' | 'oxide' | null
  readonly nitrogen: number | null
  readonly phosphorus: number | null
  readonly potassium: number | null
  readonly source: string | null
}

const analysed = ({ moisture, densityKgPerM3, basis, source, ...given }: AnalysisTyped) => ({
  moisturePermille: moisture === null ? null : Math.round(10 * moisture),
  densityKgPerM3,
  ...asElements({ basis: basis ?? 'element', ...given }),
  source,
})

const manureSaid = (given: { kind: string; rawManure: string | null }, context: z.RefinementCtx) => {
  if (given.kind === 'manure' && given.rawManure === null)
    context.addIssue({ code: 'custom', path: ['rawManure'], message: words().rawManureMissing })
}

const comesAfterOrder = (
  given: { orderedOn: IsoDate | null; deliveredOn: IsoDate | null },
  context: z.RefinementCtx,
) => {
  const say = (path: string, message: string) => context.addIssue({ code: 'custom', path: [path], message })
  if (given.orderedOn === null && given.deliveredOn === null) say('deliveredOn', wordsHere().fields.missing)
  if (given.orderedOn && given.deliveredOn && given.deliveredOn < given.orderedOn)
    say('deliveredOn', words().beforeOrder)
}

/** The quantity's field keeps the name that it had when it was a bare number; it is read with the word behind it. */
const ofDelivery = (currency: string) => ({
  quantityThousandths: measured(),
  orderedOn: optionalDate(),
  deliveredOn: optionalDate(),
  priceMinor: optional(money(currency)),
  // A carriage that nobody wrote was not charged; the price of the goods is another field, and null where unknown.
  deliveryPriceMinor: optional(money(currency)).transform((price) => price ?? 0),
  supplier: optionalText({ most: 120 }),
  note: optionalText({ most: 500 }),
})

const ofInput = {
  name: text({ most: 80 }),
  kind: choice(inputKinds),
  unit: text({ most: 20 }),
  ownMade: ownMade(),
  usefulLifeSeasons: usefulLife(),
  rawManure: rawManure(),
}

const named = <T extends { quantityThousandths: unknown }>({ quantityThousandths, ...rest }: T) => ({
  ...rest,
  quantity: quantityThousandths as T['quantityThousandths'],
})

export const deliveryForm = (currency: string) =>
  z
    .object({ id: uuid(), ...ofInput, ...ofDelivery(currency), ...ofAnalysis })
    .superRefine(comesAfterOrder)
    .superRefine(manureSaid)
    .transform(({ moisture, densityKgPerM3, basis, nitrogen, phosphorus, potassium, source, ...given }) => ({
      ...named(given),
      analysis: analysed({ moisture, densityKgPerM3, basis, nitrogen, phosphorus, potassium, source }),
    }))

export const deliveryCorrection = (currency: string) =>
  z.object(ofDelivery(currency)).superRefine(comesAfterOrder).transform(named)

export const inputCorrection = z
  .object({ ...ofInput, ...ofAnalysis, lifeSince: optionalDate().optional() })
  .superRefine(manureSaid)
  .transform(({ moisture, densityKgPerM3, basis, nitrogen, phosphorus, potassium, source, ...given }) => ({
    ...given,
    ...analysed({ moisture, densityKgPerM3, basis, nitrogen, phosphorus, potassium, source }),
  }))

/** What was ordered has come: on this day, and where it differs in this quantity and at this price. */
export const arrivalForm = (currency: string) =>
  z.object({
    deliveryId: uuid(),
    deliveredOn: date(),
    quantity: optional(measured()),
    priceMinor: optional(money(currency)),
  })

const ofSpreading = {
  /** "garden:<id>", "bed:<id>" or "planting:<id>" */
  place: z.string(said((w) => w.notChosen)).regex(
    /^(garden|bed|planting):[0-9a-f-]{36}$/,
    said((w) => w.notChosen),
  ),
  quantityThousandths: measured(),
  appliedOn: date(),
  seasonId: optional(uuid()),
  phase: optional(choice(['established', 'establishing'])),
  depthMm: optional(
    depth('mm').refine(
      (mm) => mm <= 2000,
      said((w) => w.notLength),
    ),
  ),
}

export const spreadingForm = z.object({ id: uuid(), deliveryId: uuid(), ...ofSpreading }).transform(named)

export const spreadingCorrection = z.object(ofSpreading).transform(named)

const ofMeasure = (unit: 'kg' | 'lb') => ({
  name: text({ most: 40 }),
  litres: optional(decimal({ least: 0.001, most: 100_000 })),
  weight: optional(
    weight(unit).refine(
      (grams) => grams > 0,
      said((w) => w.moreThanNothing),
    ),
  ),
})

const measureSaid = (given: { litres: number | null; weight: number | null }, context: z.RefinementCtx) => {
  if (given.litres === null && given.weight === null)
    context.addIssue({ code: 'custom', path: ['litres'], message: words().measureHoldsNothing })
}

const inSmallUnits = <T extends { litres: number | null; weight: number | null }>({ litres, weight, ...rest }: T) => ({
  ...rest,
  volumeMl: litres === null ? null : Math.round(1000 * litres),
  massG: weight,
})

export const measureForm = (unit: 'kg' | 'lb') =>
  z
    .object({ id: uuid(), ...ofMeasure(unit) })
    .superRefine(measureSaid)
    .transform(inSmallUnits)

export const measureCorrection = (unit: 'kg' | 'lb') =>
  z.object(ofMeasure(unit)).superRefine(measureSaid).transform(inSmallUnits)
