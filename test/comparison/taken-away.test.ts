import { afterAll, beforeAll, expect, it } from 'vitest'
import { type Client, openPlace, type Place } from '../support/app.ts'

let place: Place
let keeper: Client
let compare: string
beforeAll(async () => {
  place = await openPlace()
  keeper = await place.person('Ada Rook')
  compare = `${(await keeper.post('/demo/copy')).location}/compare`
})
afterAll(() => place.close())

const wordsOf = (svg: string) => [...svg.matchAll(/<text[^>]*>([^<]*)</g)].map((found) => found[1])

it.each([
  ['seasons', 'picture-seasons', 'all'],
  ['losses', 'picture-losses', 'all'],
])('the picture of %s is a file under the choices of its page, with all its words', async (part, id, season) => {
  const page = (await keeper.get(`${compare}/${part}?season=${season}&weights=all`)).text
  const address = new RegExp(`href="([^"]*/${id}\\.svg[^"]*)"`).exec(page)?.[1]?.replaceAll('&amp;', '&') ?? ''
  expect(address).toBe(`${compare}/${part}/${id}.svg?weights=all&season=${season}`)
  const file = await keeper.get(address)
  const own = wordsOf(/<svg[\s\S]*?<\/svg>/.exec(page)?.[0] ?? '')
  expect(own.length).toBeGreaterThan(8)
  expect(wordsOf(file.text)).toEqual(expect.arrayContaining(own))
  const stranger = await place.person('Ben Marsh')
  expect((await stranger.get(address)).status).toBe(404)
})

it('a picture that the page does not have is none', async () => {
  for (const path of [
    'seasons/picture-crops.svg',
    'seasons/picture-seasons.pdf',
    'side/picture-seasons.svg',
    'none/x.svg',
  ])
    expect([path, (await keeper.get(`${compare}/${path}?season=all`)).status]).toEqual([path, 404])
})

it('what the picture of losses says first took most', async () => {
  const page = (await keeper.get(`${compare}/losses?season=all`)).text
  const rows = [
    ...(/<table class="ledger" id="picture-losses-table">[\s\S]*?<\/table>/.exec(page)?.[0] ?? '').split('<tr>'),
  ]
  const sums = rows
    .slice(2)
    .map((row) => [...row.matchAll(/<td class="figure">([\d.]+)/g)].reduce((sum, found) => sum + Number(found[1]), 0))
  expect(sums.length).toBeGreaterThan(2)
  expect(sums).toEqual([...sums].sort((a, b) => b - a))
})
