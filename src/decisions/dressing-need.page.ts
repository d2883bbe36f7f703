import { withSign } from '../quantities/printed-limits.ts'
import type { HeldLimit } from '../soil/limits.ts'
import { catalogue } from '../words/catalogue.ts'
import type { DressingRow } from './dressing-plan.ts'
import { type LayerBy, layable, type NeededLayer } from './needed-layer.ts'
import type { TestedLast } from './tested-last.ts'

const words = catalogue.dressing
const { unknown } = catalogue.deciding

export interface Writers {
  readonly number: (value: number, decimals: number) => string
  readonly money: (minor: number | null) => string | null
  readonly hours: (minutes: number) => string
  readonly day: (day: string) => string
  readonly limit: (limit: HeldLimit) => string
}

/** The thinnest layer that a rake leaves even: what needs less is laid once in several seasons. */
const thinnestMm = 5
const onceMm = 10

/** For each method that has a product: the layer that replaces what crops took, what decides it, and last time's. */
export function layersTable(rows: readonly DressingRow[], w: Writers) {
  const c = words.layerColumns
  return {
    caption: words.layersHeading,
    head: [c.method, c.needed, c.settles, c.decides, c.lastTime].map((name, i) => ({
      name,
      figure: i === 1 || i === 2,
    })),
    rows: rows
      .filter((row) => row.method.product !== null)
      .map((row) => [
        row.method.name,
        neededSaid(row.needed && layable(row.needed), w),
        row.neededSettledMm === null || row.neededSettledMm === 0 ? '' : `${w.number(row.neededSettledMm, 1)} mm`,
        decides(row, w),
        row.method.lastTime ?? words.noProduct,
      ]),
  }
}

function neededSaid(mm: number | null, w: Writers) {
  if (mm === null) return unknown
  if (mm === 0) return words.noneNeeded
  const text = `${w.number(mm, 1)} mm`
  return mm > 0 && mm < thinnestMm ? { text, note: words.onceIn(Math.round(onceMm / mm)) } : text
}

/** What decides the layer, and which figure is missing. */
function decides({ needed, method }: DressingRow, w: Writers) {
  if (needed === null) return ''
  const { binds, limit, missing } = needed
  const missed = missing.length === 0 ? [] : [missingSaid(method, missing)]
  if (binds === null) return missed.join(' ')
  const by = limit && binds === 'limit' ? words.byLimit(w.limit(limit)) : words.by[reasonOf(binds, needed, method)]
  return missed.length === 0 ? by : { text: by, note: missed.join(' ') }
}

/** Where nothing is needed, why. */
function reasonOf(binds: LayerBy | 'limit', { by }: NeededLayer, { high }: DressingRow['method']) {
  if (binds === 'phosphorus' && high.includes('phosphorus')) return 'high'
  return binds === 'nitrogen' && by.nitrogen === 0 ? 'covered' : binds
}

function missingSaid({ last, product }: DressingRow['method'], missing: readonly LayerBy[]): string {
  const names = words.and(missing.map((of) => catalogue.ledger.nutrients[of]))
  if (last === null) return words.missing.taken(names)
  if (product?.made.densityKgPerM3 === null) return words.missing.weight(product.name)
  return words.missing.analysis(names)
}

/** The amounts of all methods for an address: each layer that is known as it is needed. */
export const withNeeded = (rows: readonly DressingRow[]): readonly (readonly [string, string])[] =>
  rows.flatMap(({ needed, method: { methodId } }) => {
    const mm = needed && layable(needed)
    return mm === null ? [] : [[`amounts.${methodId}`, mm === 0 ? '0' : `${mm} mm`] as const]
  })

/** Per m2: what was taken, the layers that would replace it, what the plan brings, what the last tests said. */
export function needTable(rows: readonly DressingRow[], tests: readonly TestedLast[], w: Writers) {
  const c = words.needColumns
  const grams = (value: number | null | undefined) =>
    value === null || value === undefined ? unknown : `${w.number(value, 1)} g`
  const depth = (needed: NeededLayer | null, of: LayerBy) => {
    const mm = needed === null ? null : needed.by[of]
    return mm === null ? unknown : `${w.number(mm, 1)} mm`
  }
  const taken = [c.takenN, c.takenP, c.takenK]
  const heads = [...taken, c.byN, c.byP, c.byK, c.limit, c.nitrogen, c.phosphorus, c.potassium]
  return {
    caption: words.needHeading,
    captionUnseen: true,
    head: [
      { name: c.method, figure: false },
      ...heads.map((name) => ({ name, figure: true })),
      { name: c.tests, figure: false },
    ],
    rows: rows.map((row) => [
      row.method.name,
      grams(row.takenGPerM2?.nitrogen),
      grams(row.takenGPerM2?.phosphorus),
      grams(row.takenGPerM2?.potassium),
      depth(row.needed, 'nitrogen'),
      depth(row.needed, 'phosphorus'),
      depth(row.needed, 'potassium'),
      row.needed?.limitMm === null || row.needed === null ? words.noLimit : `${w.number(row.needed.limitMm, 1)} mm`,
      grams(row.broughtGPerM2.nitrogen),
      grams(row.broughtGPerM2.phosphorus),
      grams(row.broughtGPerM2.potassium),
      testsSaid(tests.filter((one) => one.methodId === row.method.methodId)),
    ]),
  }
}

function testsSaid(tests: readonly TestedLast[]): string {
  if (tests.length === 0) return words.noTest
  return tests
    .map(({ analyte, value, beyond, unit, extractant, band }) =>
      words.testSaid({
        analyte,
        value: `${withSign(value, beyond)} ${unit}${extractant === null ? '' : `, ${extractant}`}`,
        band: band === null ? null : catalogue.soil.bands[band],
      }),
    )
    .join('; ')
}
