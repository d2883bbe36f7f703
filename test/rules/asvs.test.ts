import { existsSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { asvs, type Standing } from './asvs.ts'

/**
 * How many requirements each section has, and which of them are of level 3 alone: read from the standard's own list
 * (OWASP/ASVS, 5.0/docs_en, version 5.0.0).
 */
const sections: Readonly<Record<string, readonly [all: number, ofLevel3: readonly number[]]>> = {
  ...{ '1.1': [2, []], '1.2': [10, [10]], '1.3': [12, [12]], '1.4': [3, []], '1.5': [3, [3]] },
  ...{ '2.1': [3, []], '2.2': [3, []], '2.3': [5, [5]], '2.4': [2, [2]] },
  ...{ '3.1': [1, [1]], '3.2': [3, [3]], '3.3': [5, [5]], '3.4': [8, [7, 8]], '3.5': [8, [6, 7, 8]], '3.6': [1, [1]] },
  ...{ '3.7': [5, [3, 4, 5]], '4.1': [5, [4, 5]], '4.2': [5, [2, 3, 4, 5]], '4.3': [2, []], '4.4': [4, []] },
  ...{ '5.1': [1, []], '5.2': [6, [4, 5, 6]], '5.3': [3, [3]], '5.4': [3, []] },
  ...{ '6.1': [3, []], '6.2': [12, []], '6.3': [8, [5, 6, 7, 8]], '6.4': [6, [5, 6]], '6.5': [8, [6, 7, 8]] },
  ...{ '6.6': [4, [4]], '6.7': [2, [1, 2]], '6.8': [4, []] },
  ...{ '7.1': [3, []], '7.2': [4, []], '7.3': [2, []], '7.4': [5, []], '7.5': [3, [3]], '7.6': [2, []] },
  ...{ '8.1': [4, [3, 4]], '8.2': [4, [4]], '8.3': [3, [2, 3]], '8.4': [2, [2]], '9.1': [3, []], '9.2': [4, []] },
  ...{ '10.1': [2, []], '10.2': [3, [3]], '10.3': [5, [5]], '10.4': [16, [12, 13, 14, 15, 16]], '10.5': [5, []] },
  ...{ '10.6': [2, []], '10.7': [3, []], '11.1': [4, [3, 4]], '11.2': [5, [4, 5]], '11.3': [5, [4, 5]] },
  ...{ '11.4': [4, []], '11.5': [2, [2]], '11.6': [2, [2]], '11.7': [2, [1, 2]] },
  ...{ '12.1': [5, [4, 5]], '12.2': [2, []], '12.3': [5, [5]] },
  ...{ '13.1': [4, [2, 3, 4]], '13.2': [6, [6]], '13.3': [4, [3, 4]], '13.4': [7, [6, 7]] },
  ...{ '14.1': [2, []], '14.2': [8, [5, 6, 7, 8]], '14.3': [3, []] },
  ...{ '15.1': [5, [4, 5]], '15.2': [5, [4, 5]], '15.3': [7, []], '15.4': [4, [1, 2, 3, 4]] },
  ...{ '16.1': [1, []], '16.2': [5, []], '16.3': [4, []], '16.4': [3, []], '16.5': [4, [4]] },
  ...{ '17.1': [2, [2]], '17.2': [8, [5, 6, 7, 8]], '17.3': [2, []] },
}

const asked = Object.entries(sections).flatMap(([section, [all, ofLevel3]]) =>
  Array.from({ length: all }, (_, i) => i + 1)
    .filter((number) => !ofLevel3.includes(number))
    .map((number) => `${section}.${number}`),
)

/** What is wrong with a line of the table: a file that is not there, a test that is not in it, a reason that is none. */
function faultOf(number: string, standing: Standing): string[] {
  if (standing.kind !== 'holds') return standing.why.length > 5 ? [] : [`${number}: no reason`]
  const path = `test/${standing.file}`
  if (!existsSync(path)) return [`${number}: no file ${standing.file}`]
  const text = readFileSync(path, 'utf8')
  const named = text.includes(`('${standing.test}`) || text.includes(`"${standing.test}`)
  return standing.test !== '' && named ? [] : [`${number}: no test "${standing.test}" in ${standing.file}`]
}

describe('the table of the verification standard', () => {
  it('asks for 253 requirements of levels 1 and 2, and has a line for each and for no other', () => {
    expect(asked).toHaveLength(253)
    expect(asked.filter((number) => !(number in asvs))).toEqual([])
    expect(Object.keys(asvs).filter((number) => !asked.includes(number))).toEqual([])
  })

  it('sees a planted fault', () => {
    expect(faultOf('0.0.1', { kind: 'holds', file: 'rules/nothing.test.ts', test: 'x' })).toHaveLength(1)
    expect(faultOf('0.0.2', { kind: 'holds', file: 'rules/asvs.test.ts', test: 'no such name' })).toHaveLength(1)
    expect(faultOf('0.0.3', { kind: 'not held', why: '' })).toHaveLength(1)
    expect(faultOf('0.0.4', { kind: 'holds', file: 'rules/asvs.test.ts', test: 'sees a planted fault' })).toEqual([])
  })

  it('names tests that are there, and a reason wherever it names none', () => {
    expect(Object.entries(asvs).flatMap(([number, standing]) => faultOf(number, standing))).toEqual([])
  })

  it('counts what holds by a test, by reading, is not applicable and is not held', () => {
    const counts = Object.values(asvs).reduce<Record<string, number>>(
      (sums, { kind }) => ({ ...sums, [kind]: (sums[kind] ?? 0) + 1 }),
      {},
    )
    expect(counts).toMatchInlineSnapshot(`
      {
        "by reading": 62,
        "holds": 94,
        "not applicable": 81,
        "not held": 16,
      }
    `)
  })
})
