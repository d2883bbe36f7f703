import { type StandardError, standardErrorAsTyped } from '../quantities/standard-errors.ts'

/** As it is stored with a value; both null where the laboratory's error is not known. */
interface StoredError {
  readonly standardError: string | null
  readonly standardErrorOf: string | null
}

/** Of a value in per cent "0.2 %" are points, as its unit is. */
export function errorStored(given: StandardError | null, unit: string): StoredError {
  if (given === null) return { standardError: null, standardErrorOf: null }
  return { standardError: given.digits, standardErrorOf: unit.trim() === '%' ? 'unit' : given.of }
}

/** In the unit of the value; null where it is not known. Example: 5 % of 186 mg/kg are 9.3. */
export function errorOfValue(test: StoredError & { readonly value: string }): number | null {
  if (test.standardError === null) return null
  const error = Number(test.standardError)
  return test.standardErrorOf === 'percent' ? (error / 100) * Math.abs(Number(test.value)) : error
}

export const errorTyped = ({ standardError, standardErrorOf }: StoredError): string =>
  standardError === null ? '' : standardErrorAsTyped(standardError, standardErrorOf)
