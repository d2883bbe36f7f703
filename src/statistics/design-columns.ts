import { nth } from '../lookups/nth.ts'

/** Columns by name: labels make a factor, numbers a slope. */
export type Fixed = Readonly<Record<string, readonly string[] | readonly number[]>>

interface DesignColumn {
  readonly term: string
  /** "factor=level", "slope", or those joined by ":". */
  readonly name: string
  readonly values: readonly number[]
}

/**
 * Main effects in the order given, then interactions; treatment contrasts against the first level seen, or `reference`.
 */
export function columnsOf(
  fixed: Fixed,
  interactions: readonly (readonly string[])[] = [],
  reference: Readonly<Record<string, string>> = {},
): DesignColumn[] {
  const main = new Map(
    Object.entries(fixed).map(([name, column]) => [name, mainColumns(name, column, reference[name])]),
  )
  const products = interactions.flatMap((names) => {
    const term = names.join(':')
    return names
      .map((name) => main.get(name) ?? [])
      .reduce<readonly DesignColumn[]>(
        (made, next) =>
          made.length === 0
            ? next.map((column) => ({ ...column, term }))
            : made.flatMap((one) => next.map((other) => product(term, one, other))),
        [],
      )
  })
  return [...[...main.values()].flat(), ...products]
}

function mainColumns(term: string, column: readonly string[] | readonly number[], reference?: string): DesignColumn[] {
  if (isSlope(column)) return [{ term, name: term, values: column }]
  const levels = [...new Set(column)]
  const against = reference ?? levels[0]
  return levels
    .filter((level) => level !== against)
    .map((level) => ({ term, name: `${term}=${level}`, values: column.map((label) => (label === level ? 1 : 0)) }))
}

const isSlope = (column: readonly string[] | readonly number[]): column is readonly number[] =>
  column.every((value) => typeof value === 'number')

const product = (term: string, one: DesignColumn, other: DesignColumn): DesignColumn => ({
  term,
  name: `${one.name}:${other.name}`,
  values: one.values.map((value, i) => value * nth(other.values, i)),
})
