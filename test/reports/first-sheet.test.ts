import { describe, expect, it } from 'vitest'
import type { Finding } from '../../src/comparison/findings/findings.ts'
import { findingsTable } from '../../src/comparison/findings/findings-table.page.ts'
import { ratioLine } from '../../src/drawing/ratio-line.ts'
import { firstSheet } from '../../src/reports/first-sheet.page.ts'
import { squareCode } from '../../src/web/square-code.ts'
import { oddTrial } from './odd-trials.ts'
import { reportOn } from './recompute-folder.ts'

const { contents } = reportOn(oddTrial({ seed: 5, methods: 3, seasons: 3, laid: ['AA', 'BB', 'CC'] }), null)

describe('the first sheet', () => {
  it('holds every method beside the reference, each figure as the table of measures has it', () => {
    const { rows, measures } = firstSheet(contents)
    expect(rows.map((row) => row.name)).toEqual(contents.page.methods)
    expect(rows.filter((row) => row.isReference).map((row) => row.name)).toEqual([contents.page.said?.reference])
    for (const [place, row] of rows.entries()) {
      const figures = measures.map((key) => contents.page.rows.find((one) => one.key === key)?.cells[place]?.figure)
      expect(row.cells.map((cell) => cell.figure)).toEqual(figures)
      expect(row.cells.every((cell) => (cell.mark === 'reference') === row.isReference)).toBe(true)
    }
  })

  it('says that a measure was told apart only where its interval leaves out 1', () => {
    const cells = firstSheet(contents).rows.flatMap((row) => row.cells.filter((cell) => cell.range !== null))
    expect(cells.length).toBeGreaterThan(3)
    for (const { mark, line } of cells) {
      const apart = (line.from ?? 0) > line.one || (line.to ?? 0) < line.one
      expect(['untold', 'unsayable'].includes(mark)).toBe(!apart)
    }
  })

  it('shows a report that keeps nothing but its table of measures', () => {
    const { said: _said, ...page } = contents.page
    const rows = firstSheet({ ...contents, page }).rows
    expect(rows.flatMap((row) => row.cells.map((cell) => cell.figure))).not.toContain(undefined)
    expect(rows.slice(1).flatMap((row) => row.cells.map((cell) => cell.mark))).toEqual(Array(8).fill('none'))
  })

  it('marks as told only what the question named, and what it did not as a look around', () => {
    const { said } = contents.page
    if (!said) throw new Error('nothing was found')
    const [first = '', second = ''] = [...new Set(said.found.map((one) => one.methodB))]
    const apart = (methodB: string): Finding => {
      const own = said.found.find((one) => one.methodB === methodB && one.code === 'not seen')
      if (own?.code !== 'not seen') throw new Error('no interval')
      return { ...own, code: 'seen', ratio: 2, low: 1.5, high: 2.5 }
    }
    const others = said.others?.map((one) => ({ ...one, asked: one.name === first }))
    const found = { ...said, questionLocked: true, found: [apart(first), apart(second)], others }
    const { rows } = firstSheet({ ...contents, page: { ...contents.page, said: found } })
    const markOf = (name: string) => rows.find((row) => row.name === name)?.cells[0]?.mark
    expect([markOf(first), markOf(second)]).toEqual(['told', 'exploratory'])
  })

  it('shows no nought where weeks are open and nothing was written, and one where they are closed', () => {
    const rows = contents.page.rows.map((row) => ({
      ...row,
      cells: row.cells.map((cell, place) => ({
        ...cell,
        figure: '€0.00',
        limit: place === 0 ? null : ('weeks open' as const),
      })),
    }))
    const shown = firstSheet({ ...contents, page: { ...contents.page, rows } }).rows.map((row) => row.cells[0]?.figure)
    expect(shown).toEqual(['€0.00', null, null])
  })

  it('draws doublings alike far, and what lies beyond at the end', () => {
    const at = (ratio: number) => ratioLine({ ratio, low: null, high: null }, { width: 152, edge: 6 }).at
    expect([0.25, 0.5, 1, 2, 32, 500, 0.01].map(at)).toEqual([6, 26, 46, 66, 146, 146, 6])
    expect(ratioLine({ ratio: 0, low: null, high: null }).at).toBeNull()
  })
})

it('a square code has the three finder patterns of ISO/IEC 18004 within its margin, and differs by its text', () => {
  const { side, path } = squareCode('https://example.org/r/abc')
  const dark = new Set([...path.matchAll(/M(\d+) (\d+)h1/g)].map(([, x, y]) => `${x} ${y}`))
  const finder = (left: number, top: number) =>
    Array.from({ length: 49 }, (_, i) => [i % 7, Math.floor(i / 7)] as const).every(([x, y]) => {
      const ring = Math.max(Math.abs(x - 3), Math.abs(y - 3))
      return dark.has(`${left + x} ${top + y}`) === (ring !== 2)
    })
  expect([finder(4, 4), finder(side - 11, 4), finder(4, side - 11)]).toEqual([true, true, true])
  expect([...dark].some((one) => one.startsWith('0 '))).toBe(false)
  expect(squareCode('https://example.org/r/abd').path).not.toBe(path)
})

describe('the lines of what was seen', () => {
  const said = contents.page.said
  const rows = findingsTable(said?.found ?? [], 'en').rows

  it('are one a finding, with its own ratio and range in two digits', () => {
    expect(rows).toHaveLength(said?.found.length ?? -1)
    for (const [i, one] of (said?.found ?? []).entries()) {
      if (!('low' in one) || one.high / one.low > 10) continue
      const [, ratio, range] = rows[i] ?? []
      expect(Number(ratio)).toBeCloseTo(Number(one.ratio.toPrecision(2)), 9)
      const [low, high] = (range ?? '').split('–').map(Number)
      expect([low, high]).toEqual([one.low, one.high].map((end) => expect.closeTo(Number(end.toPrecision(2)), 1)))
    }
  })

  it('say what is told, what is not, and what open weeks leave untold', () => {
    const one = said?.found.find((own) => own.code === 'seen' || own.code === 'not seen')
    if (one?.code !== 'seen' && one?.code !== 'not seen') throw new Error('no finding of the weight')
    const line = (more: object) => findingsTable([{ ...one, ...more } as never], 'en').rows[0]?.[3]
    expect(line({ code: 'seen', low: 1.1, high: 1.4, missing: { kind: 'none open' } })).toBe('told apart')
    expect(line({ code: 'not seen', low: 0.9, high: 1.4 })).toBe('could not be told apart')
    expect(line({ code: 'not seen', low: 1.1, high: 1.4 })).toBe('not told apart while weeks are open')
    expect(line({ code: 'not seen', low: 0.1, high: 1.4, seasons: 2 })).toBe('two seasons cannot tell')
  })
})
