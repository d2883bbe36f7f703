import { entry, nth } from '../lookups/nth.ts'
import { dot } from './moments.ts'

/**
 * Orthonormal columns that span the given ones, in their order, and which were kept: a column of which less than a part
 * in 1e9 is new to those before is left out. Gram and Schmidt, twice over where much is taken (Golub & Van Loan, Matrix
 * Computations, section 5.2).
 */
export function orthonormalOf(columns: readonly (readonly number[])[]): {
  readonly kept: readonly number[]
  readonly basis: readonly Float64Array[]
} {
  const kept: number[] = []
  const basis: Float64Array[] = []
  for (const [at, column] of columns.entries()) {
    const rest = Float64Array.from(column)
    const whole = Math.sqrt(dot(rest, rest))
    let length = clear(rest, basis)
    if (length < whole / 2) length = clear(rest, basis)
    if (basis.length >= column.length || !(length > 1e-9 * whole)) continue
    basis.push(rest.map((value) => value / length))
    kept.push(at)
  }
  return { kept, basis }
}

/** Takes from a column what lies along the basis, in place, and gives the length of what is left. */
function clear(rest: Float64Array, basis: readonly Float64Array[]): number {
  for (const one of basis) {
    const along = dot(one, rest)
    for (let i = 0; i < rest.length; i++) rest[i] = entry(rest, i) - along * entry(one, i)
  }
  return Math.sqrt(dot(rest, rest))
}

/** Whether each indicator of a factor is a sum of the columns that the basis spans. */
export function liesWithin(
  basis: readonly Float64Array[],
  { at, count }: { readonly at: readonly number[]; readonly count: number },
): boolean {
  const rows = new Float64Array(count)
  for (const level of at) rows[level] = entry(rows, level) + 1
  const rest = rows.slice()
  for (const column of basis) {
    const along = new Float64Array(count)
    for (let i = 0; i < at.length; i++) along[nth(at, i)] = entry(along, nth(at, i)) + entry(column, i)
    for (let level = 0; level < count; level++) rest[level] = entry(rest, level) - entry(along, level) ** 2
  }
  return rest.every((value, level) => value <= 1e-9 * entry(rows, level))
}
