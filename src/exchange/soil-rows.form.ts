import { z } from 'zod'
import { readDecimal } from '../quantities/decimals.ts'
import { formatDay } from '../quantities/formatting.ts'
import { date, optionalText, text } from '../web/fields.ts'
import { readForm } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import type { KnownRecord } from './known-record.ts'
import type { Cells } from './row-cells.ts'
import { type RowKind, type RowRead, refusedRow, wrongAt, wrongCells } from './row-kind.ts'

const says = catalogue.rows.refused

/** One value of one sample a line, as the laboratory printed it. */
export const soilRows: RowKind = {
  name: 'soil',
  table: 'soil_tests',
  access: 'recorder',
  fields: [
    { name: 'day', required: true },
    { name: 'site' },
    { name: 'garden' },
    { name: 'bed' },
    { name: 'laboratory', required: true },
    { name: 'extractant' },
    { name: 'analyte', required: true },
    { name: 'value', required: true },
    { name: 'unit', required: true },
    { name: 'depth', measure: 'length' },
  ],
  reader: (known) => (id, cells) => readTest(id, cells, known),
}

const testForm = z.object({
  day: date(),
  laboratory: text({ most: 80 }),
  extractant: optionalText({ most: 60 }),
  analyte: text({ most: 60 }),
  unit: text({ most: 20 }),
})

function readTest(id: string, cells: Cells, known: KnownRecord): RowRead {
  const typed = Object.fromEntries(soilRows.fields.map(({ name }) => [name, cells.of(name)]))
  const read = readForm(testForm, typed)
  const wrong = read.kind === 'refused' ? wrongCells(read.errors, {}) : []
  const garden = cells.of('garden') ? known.gardenNamed(cells.of('garden')) : undefined
  const bed = cells.of('bed') && garden ? known.bedNamed(garden.id, cells.of('bed')) : undefined
  const siteId = garden?.siteId ?? known.siteNamed(cells.of('site'))?.id
  if (cells.of('garden') && !garden) wrong.push({ field: 'garden', reason: says.noGarden })
  else if (!siteId) wrong.push({ field: 'site', reason: says.noSite })
  if (cells.of('bed') && !bed) wrong.push({ field: 'bed', reason: says.noBed })
  const value = printedDecimal(cells.of('value'))
  if (value === undefined) wrong.push({ field: 'value', reason: catalogue.fields.notNumber })
  const depthMm = cells.of('depth') ? millimetres(cells.withUnit('depth')) : null
  if (depthMm === undefined) wrong.push({ field: 'depth', reason: says.noDepth })
  if (wrong.length > 0 || read.kind === 'refused' || value === undefined) return refusedRow(wrong)

  const { day: sampledOn, laboratory, extractant, analyte, unit } = read.value
  if (sampledOn > known.today) return wrongAt('day', catalogue.diary.ahead)
  return {
    kind: 'answer',
    row: {
      ...{ id, siteId, gardenId: garden?.id ?? null, bedId: bed?.id ?? null, sampledOn },
      ...{ laboratory, extractant, analyte, value, unit, depthMm },
    },
    shown: () => [
      formatDay(sampledOn, known.locale),
      [cells.of('site'), cells.of('garden'), cells.of('bed')].filter(Boolean).join(', '),
      [analyte, extractant].filter(Boolean).join(', '),
      `${value} ${unit}`,
      depthMm === null ? '' : `${depthMm} mm`,
    ],
  }
}

/** The digits as they were printed, with a point; a decimal of a laboratory is never made a float. */
function printedDecimal(typed: string): string | undefined {
  return readDecimal(typed).kind === 'answer' && /^\d+([.,]\d+)?$/.test(typed) ? typed.replace(',', '.') : undefined
}

const mmPer: Record<string, number> = { mm: 1, cm: 10, in: 25.4 }

/** "0-15 cm" is not one depth; a number needs its unit. */
function millimetres(typed: string): number | undefined {
  const [, digits = '', unit = ''] = /^([\d.,]+)\s*(mm|cm|in)$/.exec(typed.toLowerCase()) ?? []
  const amount = readDecimal(digits)
  const mm = amount.kind === 'answer' ? Math.round(amount.value * (mmPer[unit] ?? 0)) : 0
  return mm > 0 && mm <= 5000 ? mm : undefined
}
