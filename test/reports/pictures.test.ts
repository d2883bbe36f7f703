import sharp from 'sharp'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { comparePictures } from '../../src/comparison/pictures/compare-pictures.page.ts'
import type { PictureFigures } from '../../src/comparison/pictures/picture-figures.page.ts'
import { type PictureKey, pictureKeys } from '../../src/comparison/pictures/picture-keys.ts'
import { taskGroups } from '../../src/comparison/totals/labour-by-week.ts'
import { newId } from '../../src/db/new-id.ts'
import { figuresIn } from '../../src/reports/figures-of-today.routes.ts'
import { firstPictures, leftOut } from '../../src/reports/pictures.ts'
import type { Contents } from '../../src/reports/report.page.ts'
import { checksumOf } from '../../src/reports/reports.queries.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { setUpTrial, type Trial } from '../support/trial.ts'
import { shareReport, weigh, writeReport } from './reports.ts'

const words = catalogue.reports
let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  await weigh(trial, '8')
})
afterAll(() => place.close())

interface Figures {
  readonly methods: readonly { readonly method: string }[]
  readonly matched: readonly { readonly crop: string }[]
  readonly pictures?: readonly PictureFigures[]
}
interface Kept {
  readonly checksum: string
  readonly figures: Figures
}

/** The parts of a page that are pictures, each with its title, its marks and the table it was drawn from. */
function picturesOn(html: string) {
  return html
    .split('<figure class="picture">')
    .slice(1)
    .map((part) => ({ part, drawn: /<svg.*?<\/svg>/s.exec(part)?.[0] ?? '' }))
    .map(({ part, drawn }) => ({
      drawn,
      title: /<title[^>]*>([^<]*)</.exec(part)?.[1] ?? '',
      description: /<desc[^>]*>([^<]*)</.exec(part)?.[1] ?? '',
      said: [...drawn.matchAll(/<text[^>]*>([^<]*)</g)].map((found) => found[1]),
      cells: [...(part.split('</table>')[0] ?? '').matchAll(/<td[^>]*>([^<]*)</g)].map((found) => found[1]),
    }))
}
const titlesOn = (html: string) => picturesOn(html).map((one) => one.title)
const ticked = (html: string) =>
  [...html.matchAll(/name="pictures\[\]" value="(\w+)" checked/g)].map((found) => found[1] ?? '')
const open = (id: string) => trial.keeper.get(`${trial.base}/reports/${id}`)

describe('the choice', () => {
  it('stands in the form of a new report, with those ticked that a first look needs', async () => {
    const form = (await trial.keeper.get(`${trial.base}/reports`)).text
    expect(pictureKeys.every((key) => form.includes(`name="pictures[]" value="${key}"`))).toBe(true)
    expect(new Set(ticked(form))).toEqual(new Set(firstPictures))
  })

  it('is kept over an edit and in a later edition, and none is a choice too', async () => {
    const { id } = await writeReport(trial, { step: 'draft', pictures: ['losses', 'yields', 'yields'] })
    const draft = (await open(id)).text
    expect(ticked(draft)).toEqual(['yields', 'losses'])
    const version = /name="version" value="(\d+)"/.exec(draft)?.[1]
    await writeReport(trial, { id, version, step: 'draft', pictures: [] })
    const bare = (await open(id)).text
    expect(ticked(bare)).toEqual([])
    await writeReport(trial, { id, version: String(Number(version) + 1), pictures: ['yields'] })
    const later = (await trial.keeper.get(`${trial.base}/reports?after=${id}`)).text
    expect(ticked(later)).toEqual(['yields'])
  })

  it.each([
    ['a picture that is none', ['yields', '<script>']],
    ['a key of every object', ['constructor']],
    ['a tree', { a: { b: 'yields' } }],
    ['a word alone', 'yields;losses'],
  ])('%s is refused at its field', async (_, pictures) => {
    const { id, answer } = await writeReport(trial, { pictures, words: 'A dry fortnight.' })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(`<a href="#f-pictures">${catalogue.fields.notChosen}</a>`)
    expect(answer.text).toContain('A dry fortnight.')
    expect(answer.text).not.toContain('<script>')
    expect((await open(id)).status).toBe(404)
  })
})

describe('a picture on a report', () => {
  it('stands frozen as it was drawn, though the rows change, and beside a live one that follows them', async () => {
    const preview = (await writeReport(trial, { step: 'preview', pictures: ['yields'] })).answer.text
    const { id } = await writeReport(trial, { pictures: ['yields'] })
    const { id: live } = await writeReport(trial, { keeps: 'live', pictures: ['yields'] })
    const [link, liveLink] = [await shareReport(trial, id), await shareReport(trial, live)]
    const guest = place.guest()
    const before = picturesOn((await guest.get(link)).text)
    const checksum = (await guest.json<Kept>(`${link}.json`)).checksum
    // By hand: 8 kg on 20 m2 of bed.
    expect(before.map((one) => [one.title, one.cells[0]])).toEqual([['Yield by method', '0.40']])
    expect(before[0]?.said).toContain('0.40 (no interval by method alone)')
    expect(before[0]?.description.length).toBeGreaterThan(40)
    expect(picturesOn(preview)).toEqual(before)

    await weigh(trial, '2')
    expect(picturesOn((await guest.get(link)).text)).toEqual(before)
    expect(picturesOn((await open(id)).text)).toEqual(before)
    expect(picturesOn((await guest.get(liveLink)).text)[0]?.cells[0]).toBe('0.50')
    const kept = await guest.json<Kept>(`${link}.json`)
    expect(kept.checksum).toBe(checksum)
    expect(kept.figures.pictures?.map((one) => one.picture)).toEqual(['yields'])
  })

  it('is covered by the checksum; a report without one has the figures and the checksum that it had before', async () => {
    const { id } = await writeReport(trial, { pictures: ['yields'] })
    const drawn = await trial.keeper.json<Kept>(`${trial.base}/reports/${id}.json`)
    expect(checksumOf(drawn.figures)).toBe(drawn.checksum)
    const [yields] = drawn.figures.pictures ?? []
    if (yields?.picture !== 'yields') throw new Error('not drawn')
    const otherwise = { ...yields, methods: yields.methods.map((one) => ({ ...one, kgPerM2: 9 })) }
    expect(checksumOf({ ...drawn.figures, pictures: [otherwise] })).not.toBe(drawn.checksum)

    const { id: bare } = await writeReport(trial, { pictures: [] })
    const { figures, checksum } = await trial.keeper.json<Kept>(`${trial.base}/reports/${bare}.json`)
    const { pictures, ...rest } = drawn.figures
    expect([pictures?.length, figures]).toEqual([1, rest])
    expect(checksumOf(rest)).toBe(checksum)
    const page = (await open(bare)).text
    expect([picturesOn(page), page.includes('Not drawn')]).toEqual([[], false])
  })

  it('of before pictures could be chosen has the checksum that it was frozen with', () => {
    const table = { season: null, methods: [{ method: 'dug' }] } as unknown as Contents['table']
    const old = { table, units: { hoursPerBed: 'h/m2' }, currency: 'NZD' } as unknown as Contents
    expect(figuresIn(old)).toEqual({ currency: 'NZD', units: { hoursPerBed: 'h/m2' }, ...table })
  })

  it('is to be had as lines and as pixels behind the link, with its words, as it was frozen', async () => {
    const { id } = await writeReport(trial, { pictures: ['yields'] })
    const link = await shareReport(trial, id)
    const page = (await place.guest().get(link)).text
    const address = `${link}/pictures/picture-yields`
    expect(page).toContain(`href="${address}.svg"`)
    expect(page).toContain(`href="${address}.png"`)
    const [lines, pixels] = [await place.app.inject(`${address}.svg`), await place.app.inject(`${address}.png`)]
    expect(lines.headers['content-type']).toBe('image/svg+xml; charset=utf-8')
    const words = [...lines.body.matchAll(/<text[^>]*>([^<]*)</g)].map((found) => found[1])
    expect(words).toEqual(expect.arrayContaining(picturesOn(page)[0]?.said ?? ['none']))
    expect(words).toEqual(expect.arrayContaining(['Yield by method', 'Quern Hill Growers, 2025/26']))
    expect(lines.body).not.toMatch(/var\(--|@layer/)
    expect((await trial.keeper.get(`${trial.base}/reports/${id}/pictures/picture-yields.svg`)).text).toBe(lines.body)
    const { width = 0, height = 0, format } = await sharp(pixels.rawPayload).metadata()
    const [, wide, high] = /width="(\d+)" height="(\d+)"/.exec(lines.body) ?? []
    expect([format, width, height]).toEqual(['png', 4 * Number(wide), 4 * Number(high)])
    for (const none of ['picture-crops.svg', 'picture-yields.gif', 'picture-yields'])
      expect((await place.guest().get(`${link}/pictures/${none}`)).status).toBe(404)
  })

  it('stands at its part, or together with others where that part was not chosen', async () => {
    const { id } = await writeReport(trial, { sections: ['counting'], pictures: ['yields'] })
    const text = (await open(id)).text
    expect(text).toMatch(/<h2>Pictures<\/h2>\s*<div class="pictures">/)
    const { id: whole } = await writeReport(trial, { pictures: ['yields'] })
    expect((await open(whole)).text).not.toContain('<h2>Pictures</h2>')
  })

  it('that the record does not carry is left out with a sentence to those who write, not to guests', async () => {
    const { answer } = await writeReport(trial, { step: 'preview', pictures: ['seasons', 'losses'] })
    const said = plain(answer.text)
    expect(picturesOn(answer.text)).toEqual([])
    expect(said).toContain(words.leftOut.ofSeveral(words.pictures.seasons))
    expect(said).toContain(words.leftOut.notCarried(words.pictures.losses))
    const { id } = await writeReport(trial, { pictures: ['seasons', 'losses'] })
    expect(plain((await open(id)).text)).toContain(words.leftOut.ofSeveral(words.pictures.seasons))
    expect((await place.guest().get(await shareReport(trial, id))).text).not.toContain('Not drawn')
  })
})

describe('why a picture is left out', () => {
  it.each<[string, readonly PictureKey[], number, unknown]>([
    ['one season', ['yields', 'ways', 'crops'], 1, [{ why: 'ofSeveral', pictures: ['ways'] }]],
    ['several seasons', ['yields', 'crops', 'labour'], 3, [{ why: 'ofOne', pictures: ['crops', 'labour'] }]],
    ['nothing written', ['losses', 'yields'], 3, [{ why: 'notCarried', pictures: ['losses'] }]],
  ])('%s', (_, chosen, seasons, expected) => {
    const drawn = chosen.filter((key) => key === 'yields' || (seasons === 1 && key === 'crops'))
    expect(leftOut(chosen, drawn, seasons)).toEqual(expected)
  })
})

describe('the example', () => {
  let keeper: Client
  let base: string
  beforeAll(async () => {
    keeper = await place.person('Ben Marsh')
    base = (await keeper.post('/demo/copy')).location
  })
  const example = async (season: string) => {
    const id = newId()
    const form = { id, title: 'All of them', words: '', season, sections: ['measures', 'why'], keeps: 'frozen' }
    await keeper.post(`${base}/reports`, { ...form, pictures: [...pictureKeys], step: 'finish' })
    const shared = await keeper.post(`${base}/reports/${id}/links`, { endsOn: '', passphrase: '' })
    const link = /\/r\/[\w-]+/.exec(shared.text)?.[0] ?? ''
    return { link, text: (await place.guest().get(link)).text }
  }

  it('carries every picture of one season for each method beside the reference, and no names but those of methods and crops', async () => {
    const first = /guesses\/([0-9a-f-]{36})/.exec((await keeper.get(`${base}/reports`)).text)?.[1] ?? ''
    const { link, text } = await example(first)
    const titles = titlesOn(text)
    const many = (end: string) => titles.filter((one) => one.endsWith(end)).length
    expect([many('crop by crop'), many('differ')]).toEqual([4, 4])
    expect(titles.filter((one) => one.startsWith('Labour through the season'))).toHaveLength(5)
    expect(titles).toEqual(expect.arrayContaining(['Yield by method', 'Labour added up through the season']))
    const { figures } = await place.guest().json<Kept>(`${link}.json`)
    const known = new Set([
      ...[...pictureKeys, 'area', ...Object.keys(taskGroups), ...Object.keys(catalogue.diary.causes)],
      ...[...figures.methods.map((one) => one.method), ...figures.matched.map((one) => one.crop)],
    ])
    const strange = stringsIn(figures.pictures).filter((one) => !known.has(one) && !/^\d{4}-W\d\d$/.test(one))
    expect(strange).toEqual([])
  })

  it('carries every picture of several seasons, drawn the same from what was kept', async () => {
    const { link, text } = await example('all')
    const { figures } = await place.guest().json<Kept>(`${link}.json`)
    const drawn = comparePictures(figures.pictures ?? [], 'en-NZ')
    expect(drawn.map((one) => one.key)).toEqual(['yields', ...four('seasons'), ...four('ways'), 'losses'])
    expect([...titlesOn(text)].sort()).toEqual(drawn.map((one) => one.picture.title).sort())
    expect(new Set(drawn.map((one) => one.picture.id)).size).toBe(drawn.length)
    const seen = picturesOn(text).find((one) => one.title === drawn[1]?.picture.title)
    expect(seen?.cells).toEqual(drawn[1]?.picture.table.rows.flatMap((row) => row.slice(1)))
  })
})

const four = <T>(one: T): T[] => [one, one, one, one]

const stringsIn = (value: unknown): string[] => {
  if (typeof value === 'string') return [value]
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(stringsIn) : []
}

it('a picture of another version of the service is left aside', () => {
  const unknown = [{ picture: 'crystal' }, { picture: 'yields', methods: [] }] as unknown as PictureFigures[]
  expect(comparePictures(unknown, 'en-NZ').map((one) => one.key)).toEqual(['yields'])
})
