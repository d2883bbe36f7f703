import { z } from 'zod'
import { inputKinds } from '../inputs/inputs.form.ts'
import { formatDay, formatMoney, formatNumber } from '../quantities/formatting.ts'
import { choice, date, money, optional, optionalText, quantity, text, wholeNumber } from '../web/fields.ts'
import { readForm } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import type { KnownRecord } from './known-record.ts'
import { type Cells, plainName } from './row-cells.ts'
import { type RowKind, type RowRead, refusedRow, wrongAt, wrongCells } from './row-kind.ts'

const says = catalogue.rows.refused

/** One delivery, or one batch of the group's own, a line. An input that is not known by its name is added. */
export const inputRows: RowKind = {
  name: 'inputs',
  table: 'deliveries',
  access: 'recorder',
  fields: [
    { name: 'day', isDay: true, required: true },
    { name: 'input', required: true },
    { name: 'kind', required: true },
    { name: 'quantity', required: true },
    { name: 'unit', required: true },
    { name: 'price' },
    { name: 'delivery price' },
    { name: 'made' },
    { name: 'seasons' },
    { name: 'manure' },
    { name: 'supplier' },
  ],
  reader: (known) => {
    const form = deliveryOf(known.currency)
    const units = new Map(known.inputs.map((input) => [plainName(input.name), input.unit]))
    return (id, cells) => readDelivery(id, cells, { known, form, units })
  },
}

/** In the order in which they are stored. */
const states = ['no', 'raw', 'partly rotted'] as const

const deliveryOf = (currency: string) =>
  z.object({
    day: date(),
    input: text({ most: 80 }),
    kind: choice(inputKinds),
    quantity: quantity(),
    unit: text({ most: 20 }),
    price: optional(money(currency)),
    // A carriage that nobody wrote was not charged; the price of the goods is another field, and null where unknown.
    'delivery price': optional(money(currency)).transform((price) => price ?? 0),
    made: choice(['bought', 'own']),
    seasons: wholeNumber({ least: 1, most: 100 }),
    manure: choice(states),
    supplier: optionalText({ most: 120 }),
  })

interface Reading {
  readonly known: KnownRecord
  readonly form: ReturnType<typeof deliveryOf>
  /** What each input is counted in; what earlier lines add is counted as they say. */
  readonly units: Map<string, string>
}

function readDelivery(id: string, cells: Cells, { known, form, units }: Reading): RowRead {
  const given = Object.fromEntries(inputRows.fields.map(({ name }) => [name, cells.of(name)]))
  const kind = kindNamed(cells.of('kind'))
  const without = { made: cells.of('made') || 'bought', seasons: cells.of('seasons') || '1' }
  const read = readForm(form, { ...given, ...without, kind, manure: cells.of('manure') || 'no' })
  const wrong = read.kind === 'refused' ? wrongCells(read.errors, {}) : []
  const isNew = !units.has(plainName(cells.of('input')))
  if (kind === 'manure' && isNew && !cells.of('manure')) wrong.push({ field: 'manure', reason: says.manure })
  if (wrong.length > 0 || read.kind === 'refused') return refusedRow(wrong)

  const { day, input, quantity: quantityThousandths, unit, price: priceMinor } = read.value
  if (day > known.today) return wrongAt('day', catalogue.inputs.dayAhead)
  const counted = units.get(plainName(input)) ?? unit
  if (counted !== unit) return wrongAt('unit', says.countedIn(input, counted))
  units.set(plainName(input), unit)
  const { made, seasons, manure, supplier, 'delivery price': deliveryPriceMinor } = read.value
  return {
    kind: 'answer',
    row: {
      id,
      deliveredOn: day,
      quantityThousandths,
      priceMinor,
      deliveryPriceMinor,
      supplier,
      input: {
        name: input,
        kind: read.value.kind,
        unit,
        usefulLifeSeasons: seasons,
        ownMade: made === 'own' ? 1 : 0,
        rawManure: states.indexOf(manure),
      },
    },
    shown: () => [
      formatDay(day, known.locale),
      input,
      `${formatNumber(quantityThousandths / 1000, known.locale, quantityThousandths % 1000 ? 3 : 0)} ${unit}`,
      priceMinor === null ? catalogue.inputs.unpriced : formatMoney(priceMinor, known.locale, known.currency),
    ],
  }
}

/** By the stored word or by the one that pages show. */
const kindNamed = (typed: string): string =>
  Object.entries(catalogue.inputs.kinds).find(([name, shown]) => [name, shown].includes(typed.toLowerCase()))?.[0] ??
  typed
