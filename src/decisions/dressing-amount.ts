import { gramsOf, inUnitOf, type LoadMeasure, millilitresOf } from '../inputs/measures.ts'
import { type Reading, read, readDecimal, unreadable } from '../quantities/decimals.ts'
import { readThickness } from '../quantities/lengths.ts'
import { readMeasured } from '../quantities/measured.ts'

/** How much goes on, as people say it. A word may bring its own size: "2 trailers of 750 l". */
export type DressingTyped =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'layer'; readonly depthMm: number }
  | { readonly kind: 'load'; readonly thousandths: number; readonly word: string; readonly size: LoadMeasure | null }

const thickestMm = 1000

/**
 * Reads "3 cm", "30 mm", "3" (cm), "12 barrows", "40 bags of 40 l", "2 trailers of 1.5 m3", "800 kg", "nothing". A
 * layer of more than a metre is none.
 */
export function readDressing(text: string, locale?: string): Reading<DressingTyped> {
  const plain = text.trim()
  if (/^(0|none|nothing|nichts)$/i.test(plain)) return read({ kind: 'nothing' })
  const layer = readThickness(plain, 'cm', locale)
  if (layer.kind === 'answer')
    return layer.value > thickestMm ? unreadable('too-large') : read({ kind: 'layer', depthMm: layer.value })
  if (layer.reason !== 'unknown-unit') return layer
  const [counted = '', sized, ...rest] = aroundOf(plain)
  const load = readMeasured(counted, locale)
  if (load.kind === 'refused') return load
  if (load.value.word === null || rest.length > 0) return unreadable('not-a-number')
  const { thousandths, word } = load.value
  if (sized === undefined) return read({ kind: 'load', thousandths, word, size: null })
  const size = sizeOf(sized, locale)
  if (size === null) return unreadable('unknown-unit')
  return read({ kind: 'load', thousandths, word, size: { name: word, ...size } })
}

const joining = new Set(['of', 'von', 'zu', 'je'])

/** "12 bags of 40 l": what stands before and behind such a word. */
function aroundOf(text: string): string[] {
  const parts: string[][] = [[]]
  for (const word of text.split(/\s+/)) {
    if (joining.has(word.toLowerCase())) parts.push([])
    else parts.at(-1)?.push(word)
  }
  return parts.map((words) => words.join(' '))
}

/** "750 l", "1.5 m3", "25 kg"; null where it is no volume and no weight of the standard units. */
function sizeOf(text: string, locale: string | undefined): Omit<LoadMeasure, 'name'> | null {
  const found = readMeasured(text, locale)
  if (found.kind === 'refused' || found.value.word === null || readDecimal(text, locale).kind === 'answer') return null
  const counted = { unit: found.value.word, densityKgPerM3: null, measures: [] }
  const volumeMl = millilitresOf(found.value.thousandths, counted)
  const massG = gramsOf(found.value.thousandths, counted)
  return volumeMl === null && massG === null ? null : { volumeMl, massG }
}

interface Of {
  readonly unit: string
  readonly densityKgPerM3: number | null
  readonly measures: readonly LoadMeasure[]
  readonly areaCm2: number
}

export interface DressingAmount {
  /** Each null where it cannot be known: the size of a bale, the density of hay. */
  readonly volumeMl: number | null
  readonly massG: number | null
  /** In the unit that the product is counted and priced in. */
  readonly unitThousandths: number | null
  readonly depthMm: number | null
}

/** 1 cm on 1 m2 is 10 litres. A bag that weighs counts by weight, and by volume where the density is known. */
export function amountOf(typed: DressingTyped, { unit, densityKgPerM3, measures, areaCm2 }: Of): DressingAmount {
  if (typed.kind === 'nothing') return { volumeMl: 0, massG: 0, unitThousandths: 0, depthMm: 0 }
  const own = typed.kind === 'load' && typed.size !== null ? [typed.size, ...measures] : measures
  const counted =
    typed.kind === 'layer'
      ? { thousandths: (areaCm2 * typed.depthMm) / 10, word: 'l' }
      : { thousandths: typed.thousandths, word: typed.word }
  const of = { unit: counted.word, densityKgPerM3, measures: own }
  const volumeMl = millilitresOf(counted.thousandths, of)
  const inUnit = inUnitOf(counted, { unit, densityKgPerM3, measures: own })
  return {
    volumeMl,
    massG: gramsOf(counted.thousandths, of),
    unitThousandths: inUnit.kind === 'answer' ? inUnit.thousandths : null,
    depthMm: volumeMl === null ? null : (10 * volumeMl) / areaCm2,
  }
}
