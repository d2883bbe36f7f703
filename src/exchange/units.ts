/**
 * The unit of a stored whole number, by how its column is called, as a code of UCUM (the Unified Code for Units of
 * Measure, ucum.org). Null for counts, numbers of order, yes-or-no marks and money, which has a currency (ISO 4217)
 * instead.
 */
const endings: readonly (readonly [RegExp, string])[] = [
  [/_kcal_per_100g$/, 'kcal/(100.g)'],
  [/_mg_per_100g$/, 'mg/(100.g)'],
  [/_mg_per_kg$/, 'mg/kg'],
  [/_kg_per_m3$/, 'kg/m3'],
  [/_mg_per_m2$/, 'mg/m2'],
  [/_g_per_m2$/, 'g/m2'],
  [/_per_m2$|^regrowth_after_\d+_weeks$/, '1/m2'],
  [/^byte_count$/, 'By'],
  [/_tenths_c$/, '10*-1.Cel'],
  [/_tenths_mm$/, '10*-1.mm'],
  [/_cm2$/, 'cm2'],
  [/_mm$/, 'mm'],
  [/_ml$/, 'mL'],
  [/_g$/, 'g'],
  [/(^|_)minutes$/, 'min'],
  [/_permille$/, '10*-3'],
  [/(^|_)percent$/, '%'],
]

export const unitOf = (column: string): string | null => endings.find(([ending]) => ending.test(column))?.[1] ?? null

/** Money in the smallest unit of the group's currency, some of it by the hour or by the kilogram. */
export const isMoney = (column: string): boolean => /_minor(_per_hour|_per_kg)?$/.test(column)

/** Thousandths of the unit that the input's own row names. */
export const isQuantity = (column: string): boolean => /_thousandths$/.test(column)

/** Whole numbers that count something or put it in order, and marks of yes (1) and no (0): they have no unit. */
export const withoutUnit: ReadonlySet<string> = new Set([
  'version',
  'number',
  'position',
  'colour_index',
  'year_of_method',
  'schema_version',
  'seasons_to_look_at',
  'plants',
  'pieces',
  'people',
  'share',
  'effort',
  'severity',
  'useful_life_seasons',
  'establishing_seasons',
  'interplanted',
  'outside_method',
  'own_made',
  'raw_manure',
  'is_uniform_year',
  'touches_soil',
  'rows_agreed',
  'stands_over_seasons',
  'regrows',
  'counts',
  'counts_when_picked',
  'edition',
  'data_cut_off',
  'openings',
  'agreed',
  // Of a picture, in its own dots.
  'width',
  'height',
  // Beside a column that names the unit: the laboratory's and the counter's own.
  'value',
  'out_of',
  'standard_error',
])
