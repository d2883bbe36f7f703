import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { densityOf } from '../../src/inputs/measures.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'

let place: Place
let keeper: Client
let base: string
beforeAll(async () => {
  place = await openPlace()
  keeper = await place.keeper()
  base = (await keeper.post('/demo/copy')).location
})
afterAll(() => place.close())

const main = async (path: string) => (await keeper.get(`${base}/${path}`)).text.split('<main')[1] ?? ''

describe('a page opens with its answer, and asks afterwards', () => {
  it.each([
    ['decide/compost', false],
    ['decide/compost/layer', true],
    ['decide/restart', true],
    ['decide/pay-back', true],
    ['decide/value', true],
    ['soil', false],
    ['soil/balance', true],
    ['soil/against-tests', true],
    ['soil/organic-matter', true],
    ['soil/limits', false],
  ])('%s', async (path, hasPicture) => {
    const html = await main(path)
    const at = (mark: string) => {
      const found = html.indexOf(mark)
      return found < 0 ? Number.POSITIVE_INFINITY : found
    }
    const answer = at('class="answer')
    expect(answer).toBeLessThan(Math.min(at('<form'), at('<table'), at('<ul class="lines"'), at('<figure')))
    // What is between the heading and the answer is no paragraph to be read first.
    expect(html.slice(at('</h1>'), answer)).not.toContain('<p class="faint"')
    if (hasPicture) expect(at('<figure')).toBeLessThan(at('<form'))
  })
})

describe('the example plans its dressing in figures', () => {
  it('every method that is dressed has weight, barrows, hours and cost', async () => {
    const html = await main('decide/compost')
    const [plan] = html.split(`<caption>${catalogue.dressing.layersHeading}`)
    for (const method of [
      'Dug every spring Lower Terrace',
      'Compost mulch, never dug Long Bank',
      'Deep hay mulch Hay Meadow',
    ]) {
      const cells = rowOf(plan ?? '', method)
      expect([method, cells.length, cells.includes(catalogue.deciding.unknown)]).toEqual([method, 10, false])
    }
    expect(plain(html)).not.toContain(catalogue.dressing.unknownMass('Hay, round bales'))
  })

  it('a bale of 60 kg in 1.2 m3 is 50 kg in a m3; a barrow that was never weighed tells nothing', () => {
    const own = [
      { name: 'bale', volumeMl: 1_200_000, massG: 60_000 },
      { name: 'barrow', volumeMl: 85_000, massG: null },
    ]
    expect([densityOf('bales', own), densityOf('barrow', own), densityOf('m3', own), densityOf('box', own)]).toEqual([
      ...[50, null, null, null],
    ])
  })
})

it('the layer’s picture sums what goes on less what is carried off', async () => {
  const html = await main('decide/compost/layer?seasons=2')
  const [head, ...rows] = [...(html.split('<figure')[1] ?? '').matchAll(/<tr>([\s\S]*?)<\/tr>/g)].map((row) =>
    [...(row[1] ?? '').matchAll(/<t[hd][^>]*>([^<]*)/g)].map((cell) => plain(cell[1] ?? '')),
  )
  const figures = rows.map((row) => row.slice(1).map((cell) => Number.parseFloat(cell)))
  expect([head, figures[0]]).toEqual([
    ['Season', 'phosphorus', 'potassium'],
    [0, 0],
  ])
  const left = rowOf(html, 'phosphorus').at(-1)
  expect(Number.parseFloat(left ?? '')).toBeCloseTo(figures[2]?.[0] ?? Number.NaN, 1)
  expect(figures[2]?.[1]).toBeCloseTo(2 * (figures[1]?.[1] ?? Number.NaN), 0)
})

it('soil says what was found last, and what its laboratories call high', async () => {
  expect(plain(await main('soil'))).toMatch(/Tested last on 5 August 2025: .*pH 6\.1 to 6\.4/)
})
