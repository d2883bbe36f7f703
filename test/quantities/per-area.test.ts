import { expect, it } from 'vitest'
import { perAreaAsTyped } from '../../src/quantities/as-typed.ts'
import { readPerArea } from '../../src/quantities/per-area.ts'

it.each([
  ['170', 17_000],
  ['170 kg/ha', 17_000],
  ['170 KG / ha', 17_000],
  ['17 g/m2', 17_000],
  ['17 g/m²', 17_000],
  ['250,5', 25_050],
  ['250.5 kg/ha', 25_050],
  ['0', 0],
  // A pound on an acre is 1.120851 kg on a hectare: NIST Special Publication 811, appendix B.
  ['150 lb/acre', 16_813],
  ['10000', 1_000_000],
])('an amount on ground: %s', (text, mg) => {
  expect(readPerArea(text)).toEqual({ kind: 'answer', value: mg })
})

it.each(['', '-1', 'much', 'kg/ha', '17 g', '17 kg/m2', '1e9', 'NaN', '10001', '1001 g/m2', '17 g/m2 of N'])(
  'refuses %s',
  (text) => {
    expect(readPerArea(text).kind).toBe('refused')
  },
)

it.each([0, 1, 12, 125, 17_000, 25_050, 16_813, 1_000_000])('%i mg/m2 as typed reads back as itself', (mg) => {
  expect(['en-GB', 'de-DE'].map((locale) => readPerArea(perAreaAsTyped(mg), locale))).toEqual(
    Array(2).fill({ kind: 'answer', value: mg }),
  )
})
