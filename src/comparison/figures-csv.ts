import { type FirstTable, figureUnits } from './first-table.ts'

type Rows = readonly (readonly (string | number | null)[])[]

/** The tables of a comparison as rows, the names of the columns first; undefined where no table is called that. */
export function figureRows(table: FirstTable, name: string): Rows | undefined {
  return figureTables.get(name)?.(table)
}

const methodRows = (table: FirstTable): Rows => [
  ['method', 'figure', 'unit', 'value', 'numerator', 'denominator', 'limit'],
  ...table.methods.flatMap(({ method, figures }) =>
    figures.map(({ key, value, numerator, denominator, limit }) => [
      ...[method, key, figureUnits[key].unit, value],
      ...[numerator, denominator, limit],
    ]),
  ),
]

const matchedRows = (table: FirstTable): Rows => [
  ['crop', 'method', 'unit', 'value'],
  ...table.matched.flatMap(({ crop, byMethod }) =>
    byMethod.map((one) => [crop, methodNamed(table, one.methodId), 'kg/m2', one.kgPerM2]),
  ),
  ...table.commonMix.map((one) => ['common mix', methodNamed(table, one.methodId), 'kg/m2', one.kgPerM2]),
]

const methodNamed = (table: FirstTable, id: string) => table.methods.find((one) => one.methodId === id)?.method ?? ''

const figureTables = new Map([
  ['methods', methodRows],
  ['matched-crops', matchedRows],
])

export const unitsOf = () => Object.fromEntries(Object.entries(figureUnits).map(([key, { unit }]) => [key, unit]))
