import { sql } from 'drizzle-orm'
import sharp from 'sharp'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { madeAnew } from '../../src/web/picture.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
let recorder: Client
let at: string
const noteId = newId()
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  recorder = await place.joined(trial.keeper, 'recorder')
  at = `${trial.base}/notes`
  const note = { id: noteId, place: `garden:${trial.gardens.lower}`, seenOn: '2025-11-11', kind: 'weed', severity: '' }
  await recorder.post(`${at}/notes`, { ...note, words: 'Couch grass along the edge.' })
})
afterAll(() => place.close())

/** A picture as a telephone takes it: lying on its side, with where and with what. */
const taken = () =>
  sharp({ create: { width: 60, height: 40, channels: 3, background: { r: 40, g: 120, b: 60 } } })
    .withExif({
      IFD0: { Make: 'Telephone of Ada Rook' },
      IFD3: {
        GPSLatitudeRef: 'S',
        GPSLatitude: '41/1 17/1 11/1',
        GPSLongitudeRef: 'E',
        GPSLongitude: '174/1 46/1 32/1',
      },
    })
    .withMetadata({ orientation: 6 })
    .jpeg()
    .toBuffer()

/** The tag that points to positions in Exif (CIPA DC-008: GPS Info IFD, 0x8825), in either byte order. */
const namesPlace = (bytes: Buffer) =>
  bytes.includes('Exif\0\0') && (bytes.includes(Buffer.from([0x88, 0x25])) || bytes.includes(Buffer.from([0x25, 0x88])))

const jpeg = (bytes: Buffer) => ({ name: 'edge.jpg', bytes })
const given = (more: Record<string, string> = {}) => ({ id: newId(), noteId, caption: 'Shoots at the edge', ...more })

it('a picture comes out upright and without where it was taken or with what', async () => {
  const sent = await taken()
  expect(namesPlace(sent)).toBe(true)
  expect(sent.includes('Telephone of Ada Rook')).toBe(true)
  const fields = given()
  expect((await recorder.upload(`${at}/pictures`, fields, jpeg(sent))).status).toBe(303)
  const page = (await recorder.get(at)).text
  expect(page).toContain(`src="${at}/pictures/${fields.id}" width="40" height="60"`)
  expect(page).toContain('alt="Shoots at the edge"')
  const kept = await recorder.download(`${at}/pictures/${fields.id}`)
  const { format, width, height, exif, xmp, iptc } = await sharp(kept).metadata()
  expect({ format, width, height, exif, xmp, iptc }).toEqual({ format: 'jpeg', width: 40, height: 60 })
  expect(namesPlace(kept)).toBe(false)
  expect(kept.includes('Telephone')).toBe(false)
})

it('PNG and WebP are taken too, a large one is made smaller, and a drawing in SVG or a torn file is not', async () => {
  const wide = sharp({ create: { width: 2600, height: 130, channels: 4, background: '#00000000' } })
  for (const bytes of [await wide.clone().png().toBuffer(), await wide.clone().webp().toBuffer()]) {
    expect(await madeAnew(bytes)).toMatchObject({ kind: 'answer', width: 2000, height: 100 })
  }
  const drawing = Buffer.from(
    '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><rect width="9" height="9"/></svg>',
  )
  expect(await madeAnew(drawing)).toEqual({ kind: 'refused' })
  const whole = await sharp({ create: { width: 600, height: 400, channels: 3, background: 'red' } })
    .jpeg()
    .toBuffer()
  expect(await madeAnew(whole.subarray(0, 700))).toEqual({ kind: 'refused' })
})

it('a text named .jpg, a picture of 11 MB and no picture at all are refused in words', async () => {
  const post = (bytes: Buffer) => recorder.upload(`${at}/pictures`, given({ caption: 'kept' }), jpeg(bytes))
  const text = await post(Buffer.from('This is a shopping list.'))
  expect(text.status).toBe(422)
  expect(plain(text.text)).toContain('This is no picture that can be read here, whatever its name says.')
  expect(text.text).toContain('value="kept"')
  const large = await post(Buffer.concat([await taken(), Buffer.alloc(11_000_000)]))
  expect(large.status).toBe(422)
  expect(plain(large.text)).toContain('This picture is larger than 10 MB.')
  const none = await recorder.post(`${at}/pictures`, given())
  expect(none.status).toBe(422)
  expect(plain(none.text)).toContain('Choose a picture.')
})

it('a form sent twice is stored once, its bytes once, and never in the history', async () => {
  const fields = given({ caption: 'twice' })
  const bytes = await taken()
  for (const _ of [1, 2]) expect((await recorder.upload(`${at}/pictures`, fields, jpeg(bytes))).status).toBe(303)
  const count = async (query: ReturnType<typeof sql>) =>
    Number(((await place.database.drizzle.execute(query)) as unknown as { rows: { n: string }[] }).rows[0]?.n)
  expect(await count(sql`select count(*) as n from picture_bytes where id = ${fields.id}`)).toBe(1)
  expect(
    await count(sql`select count(*) as n from changes where row_id = ${fields.id} and table_name = 'pictures'`),
  ).toBe(1)
  expect(await count(sql`select count(*) as n from changes where table_name = 'picture_bytes'`)).toBe(0)
  const walls = sql`select count(*) as n from pg_policies p join pg_class c on c.relname = p.tablename
    where c.relrowsecurity and p.policyname = 'group_wall' and p.tablename in ('pictures', 'picture_bytes')`
  expect(await count(walls)).toBe(2)
})

it('a reader looks and does not add; another group is told that nothing is there; a guest signs in first', async () => {
  const fields = given()
  await recorder.upload(`${at}/pictures`, fields, jpeg(await taken()))
  const address = `${at}/pictures/${fields.id}`
  const reader = await place.joined(trial.keeper, 'reader')
  const answer = await reader.get(address)
  expect([answer.status, answer.headers['content-type']]).toEqual([200, 'image/jpeg'])
  expect((await reader.get(at)).text).not.toContain('type="file"')
  expect((await reader.upload(`${at}/pictures`, given(), jpeg(await taken()))).status).toBe(403)
  const stranger = await place.keeper()
  expect((await stranger.get(address)).status).toBe(404)
  expect((await stranger.get(`/g/${stranger.slug}/notes/pictures/${fields.id}`)).status).toBe(404)
  expect((await stranger.upload(`${at}/pictures`, given(), jpeg(await taken()))).status).toBe(404)
  expect((await place.guest().get(address)).status).toBe(303)
})

it('a picture that is removed, or whose note is, is seen no longer', async () => {
  const fields = given()
  await recorder.upload(`${at}/pictures`, fields, jpeg(await taken()))
  const removal = { version: '1', reason: 'Shows a face' }
  expect((await recorder.post(`${trial.base}/correct/pictures/${fields.id}/removal`, removal)).status).toBe(303)
  expect((await recorder.get(`${at}/pictures/${fields.id}`)).status).toBe(404)
})

it('a form with a file wants our token as any other, and none is read where no route takes one', async () => {
  const forged = await recorder.upload(`${at}/pictures`, { ...given(), _csrf: 'forged' }, jpeg(await taken()))
  expect(forged.status).toBe(403)
  expect((await recorder.upload(`${at}/notes`, {}, jpeg(await taken()))).status).toBe(403)
})
