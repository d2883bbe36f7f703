import { z } from 'zod'
import { choice, date, money, optional, optionalText, quantity, text, uuid, wholeNumber } from '../web/fields.ts'
import { catalogue } from '../words/catalogue.ts'

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

export const deliveryForm = (currency: string) =>
  z.object({
    id: uuid(),
    name: text({ most: 80 }),
    kind: choice(inputKinds),
    unit: text({ most: 20 }),
    quantityThousandths: quantity(),
    deliveredOn: date(),
    priceMinor: optional(money(currency)),
    deliveryPriceMinor: optional(money(currency)).transform((price) => price ?? 0),
    ownMade: choice(['bought', 'own']).transform((made) => made === 'own'),
    usefulLifeSeasons: wholeNumber({ least: 1, most: 100 }),
    supplier: optionalText({ most: 120 }),
  })

export const spreadingForm = z.object({
  id: uuid(),
  deliveryId: uuid(),
  /** "garden:<id>" or "bed:<id>" */
  place: z.string(catalogue.fields.notChosen).regex(/^(garden|bed):[0-9a-f-]{36}$/, catalogue.fields.notChosen),
  quantityThousandths: quantity(),
  appliedOn: date(),
  seasonId: uuid(),
  phase: choice(['established', 'establishing']),
})
