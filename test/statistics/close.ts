import { readFileSync } from 'node:fs'
import { expect } from 'vitest'
import type { Answer, Refusal } from '../../src/statistics/answer.ts'

/** Equal to a relative 1e-6 unless told otherwise, or to the digits that the source printed. */
export function close(found: number, published: number, relative = 1e-6): void {
  expect(
    Math.abs(found - published) / Math.max(Math.abs(published), 1e-300),
    `${found} against ${published}`,
  ).toBeLessThan(relative)
}

export function answered<T>(given: Answer<T> | Refusal): Answer<T> {
  if (given.kind === 'refused') throw new Error(`It was refused: ${given.reason}, ${given.detail}`)
  return given
}

/** Rows of a small table beside the tests: a first line of names, no quoted commas. */
export function table(name: string): Record<string, string>[] {
  const [head = '', ...lines] = readFileSync(`test/statistics/published/${name}`, 'utf8').trim().split(/\r?\n/)
  const names = head.split(',').map((cell) => cell.replaceAll('"', ''))
  return lines.map((line) =>
    Object.fromEntries(line.split(',').map((cell, i) => [names[i] ?? '', cell.replaceAll('"', '')])),
  )
}

/**
 * Yields of four cropping systems on fourteen farms, t/ha. Hildebrand 1984, Agronomy Journal 76:271-274, as given in the data
 * collection of the R package agridat.
 */
export const hildebrand = {
  LM: [2.2, 2.2, 1.9, 1.2, 1.3, 0.9, 1, 0.5, 1.8, 1.1, 1.6, 1, 1.6, 0.6],
  LMF: [3.6, 3.7, 4.3, 3.2, 2.3, 2.3, 3.1, 2.8, 3.2, 2.5, 2.9, 1.2, 1.9, 0.8],
  CCA: [3.5, 2, 2.9, 0.4, 0.6, 0.5, 0.6, 0.3, 2.2, 0.7, 0.9, 0.3, 1.1, 0.3],
  CCAF: [5, 4.7, 4.3, 3.5, 2.4, 1.7, 3, 2.8, 2.9, 2.5, 2.1, 1.1, 0.8, 0.4],
} as const
