import { createHash } from 'node:crypto'
import { crc32, deflateSync } from 'node:zlib'
import sharp from 'sharp'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import yazl from 'yazl'
import { madeAnew } from '../../src/web/picture.ts'
import { packed, unpacked } from '../exchange/unpacked.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'

let place: Place
let keeper: Client
let files: Map<string, Buffer>
beforeAll(async () => {
  place = await openPlace()
  keeper = await place.keeper()
  files = await unpacked(await keeper.download(`/g/${keeper.slug}/exchange/export.zip`))
})
afterAll(() => place.close())

async function bringIn(bytes: Buffer): Promise<string> {
  const person = await place.person()
  const answer = await person.upload('/groups/bring-back', {}, { name: 'export.zip', bytes })
  expect(answer.status).toBe(422)
  return plain(answer.text)
}

const tooLarge = 'larger than this service takes at once'
const sum = (bytes: Buffer) => createHash('sha256').update(bytes).digest('hex')

/** An export in which one table is other bytes, with its sum set right. */
function withTable(table: string, bytes: Buffer): Map<string, Buffer> {
  const path = `data/${table}.csv`
  const described = (files.get('datapackage.json')?.toString() ?? '').replace(
    sum(files.get(path) ?? Buffer.alloc(0)),
    sum(bytes),
  )
  return new Map(files).set(path, bytes).set('datapackage.json', Buffer.from(described))
}

describe('a zip', () => {
  it('of 20 MB of one letter in some kB is refused by its directory', async () => {
    const bomb = await packed(withTable('sites', Buffer.alloc(20 * 1024 * 1024, 'a')))
    expect(bomb.length).toBeLessThan(200_000)
    expect(await bringIn(bomb)).toContain(tooLarge)
  })

  it('that says less in its directory than it holds is refused as damaged', async () => {
    const bomb = await packed(withTable('groups', Buffer.alloc(20 * 1024 * 1024, 'a')))
    const size = Buffer.alloc(4)
    size.writeUInt32LE(20 * 1024 * 1024)
    const lie = Buffer.alloc(4)
    lie.writeUInt32LE(1000)
    for (let at = bomb.indexOf(size); at >= 0; at = bomb.indexOf(size, at + 4)) lie.copy(bomb, at)
    expect(await bringIn(bomb)).toMatch(/not as they were written|not a zip file/)
  })

  it('of more files than an export has is refused by its directory', async () => {
    const zip = new yazl.ZipFile()
    for (let i = 0; i < 5000; i++) zip.addBuffer(Buffer.from('x'), `data/${i}.csv`)
    zip.end()
    const chunks: Buffer[] = []
    for await (const chunk of zip.outputStream) chunks.push(chunk as Buffer)
    expect(await bringIn(Buffer.concat(chunks))).toContain('not a zip file')
  })

  it('with a path that leads out of it writes nothing, since no path of it is ever written', async () => {
    const described = (files.get('datapackage.json')?.toString() ?? '').replace('data/sites.csv', '../../sites.csv')
    const bytes = await packed(new Map(files).set('datapackage.json', Buffer.from(described)))
    expect(await bringIn(bytes)).toContain('no datapackage.json of this service')
  })
})

describe('JSON', () => {
  it('a hundred thousand brackets deep, or larger than any descriptor, is refused', async () => {
    const deep = Buffer.from(`${'['.repeat(100_000)}${']'.repeat(100_000)}`)
    expect(await bringIn(await packed(new Map(files).set('datapackage.json', deep)))).toContain('no datapackage.json')
    const long = Buffer.from(`{"a":"${'a'.repeat(5 * 1024 * 1024)}"}`)
    expect(await bringIn(await packed(new Map(files).set('datapackage.json', long)))).toContain(tooLarge)
  })

  it('that names what every object has is data and nothing else', async () => {
    const described = (files.get('datapackage.json')?.toString() ?? '').replace('{', '{"__proto__":{"polluted":1},')
    const answer = await (await place.person()).upload(
      '/groups/bring-back',
      {},
      { name: 'export.zip', bytes: await packed(new Map(files).set('datapackage.json', Buffer.from(described))) },
    )
    expect(answer.status).toBe(422)
    expect(({} as { polluted?: number }).polluted).toBeUndefined()
  })
})

describe('a form', () => {
  it('that is deep, wide or names what every object has is refused or read as data', async () => {
    const person = await place.person()
    const deep = await person.post(`/account/name`, { [`name${'[a]'.repeat(1000)}`]: 'x' })
    expect([400, 422]).toContain(deep.status)
    const wide = Object.fromEntries(Array.from({ length: 21_000 }, (_, i) => [`f${i}`, 'x']))
    expect((await person.post('/account/name', wide)).status).toBe(400)
    for (const name of ['__proto__[polluted]', 'constructor[prototype][polluted]'])
      expect((await person.post('/account/name', { name: 'Ada Rook', [name]: '1' })).status).toBeLessThan(500)
    expect(({} as { polluted?: string }).polluted).toBeUndefined()
  })

  it('of more bytes than a form has is cut off', async () => {
    const person = await place.person()
    expect((await person.post('/account/name', { name: 'x'.repeat(2 * 1024 * 1024) })).status).toBe(400)
  })
})

describe('a picture', () => {
  /** A PNG (ISO/IEC 15948) that says it is so large, with hardly a pixel in it. */
  function png(width: number, height: number): Buffer {
    const head = Buffer.alloc(13)
    head.writeUInt32BE(width, 0)
    head.writeUInt32BE(height, 4)
    head.set([8, 2], 8)
    const chunk = (name: string, data: Buffer) => {
      const body = Buffer.concat([Buffer.from(name), data])
      const length = Buffer.alloc(4)
      length.writeUInt32BE(data.length)
      const check = Buffer.alloc(4)
      check.writeUInt32BE(crc32(body))
      return Buffer.concat([length, body, check])
    }
    const pixels = deflateSync(Buffer.alloc(1 + Math.min(width, 1000) * 3))
    const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])
    return Buffer.concat([signature, chunk('IHDR', head), chunk('IDAT', pixels), chunk('IEND', Buffer.alloc(0))])
  }

  it('is refused by the size in its head, before its pixels are made', async () => {
    const whole = await sharp({ create: { width: 100, height: 100, channels: 3, background: 'red' } })
      .png()
      .toBuffer()
    expect(await madeAnew(whole, 9999)).toEqual({ kind: 'refused' })
    expect((await madeAnew(whole, 10_000)).kind).toBe('answer')
  })

  it('with a forged head of three thousand million pixels takes no memory for them', async () => {
    const before = process.memoryUsage.rss()
    for (const bytes of [png(60_000, 50_000), png(2 ** 31 - 1, 1), png(0, 5)])
      expect(await madeAnew(bytes)).toEqual({ kind: 'refused' })
    expect(process.memoryUsage.rss() - before).toBeLessThan(300_000_000)
  })

  it('of many pages counts all of them', async () => {
    const page = { create: { width: 50, height: 50, channels: 4, background: '#ff000080' } } as const
    const frames = await Promise.all(
      ['red', 'blue', 'green'].map((background) =>
        sharp({ create: { ...page.create, background } })
          .png()
          .toBuffer(),
      ),
    )
    const moving = await sharp(frames, { join: { animated: true } })
      .webp()
      .toBuffer()
    expect(await madeAnew(moving, 50 * 50 * 2)).toEqual({ kind: 'refused' })
  })
})
