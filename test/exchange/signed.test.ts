import { createHash, generateKeyPairSync, sign } from 'node:crypto'
import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Letter } from '../../src/web/mail.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { packed, unpacked } from './unpacked.ts'

let old: Place
let fresh: Place
let keeper: Client
let slug: string
let exported: Buffer
let files: Map<string, Buffer>
const letters: Letter[] = []
beforeAll(async () => {
  old = await openPlace()
  keeper = await old.keeper()
  slug = keeper.slug
  await (await old.joined(keeper, 'recorder')).post('/account/name', { name: 'Ben <b>Marsh</b>' })
  exported = await keeper.download(`/g/${slug}/exchange/export.zip`)
  files = await unpacked(exported)
  fresh = await openPlace({
    origin: null,
    mailing: { post: { send: (one) => letters.push(one) }, origin: 'https://new.example' },
  })
})
afterAll(async () => {
  await old.close()
  await fresh.close()
})

async function bringIn(bytes: Buffer, into = fresh) {
  const person = await into.person('Cleo Vane')
  const answer = await person.upload('/groups/bring-back', {}, { name: 'export.zip', bytes })
  person.slug = answer.location.split('/')[2] ?? ''
  const said = answer.status === 303 ? plain((await person.get(answer.location)).text) : plain(answer.text)
  return { person, answer, said, page: async () => plain((await person.get(`/g/${person.slug}/exchange`)).text) }
}

/** As if the group were not here, so that it can be brought in once more. */
async function forget(place: Place) {
  await place.database.drizzle.transaction(async (tx) => {
    await tx.execute(sql`set local session_replication_role = replica`)
    const tables = (await tx.execute(sql`select c.relname::text as name from pg_class c
      join pg_attribute a on a.attrelid = c.oid and a.attname = 'group_id' where c.relkind in ('r', 'p')
      and c.relnamespace = 'public'::regnamespace`)) as unknown as { rows: { name: string }[] }
    for (const { name } of tables.rows) await tx.execute(sql.raw(`delete from ${name}`))
    await tx.execute(sql`delete from groups`)
  })
}

const ownOf = (page: string) => /key of this installation, ((?:[0-9a-f]{4} ){7}[0-9a-f]{4})/.exec(page)?.[1] ?? ''

describe('an export', () => {
  it('is signed by the key of its installation, whose number the page shows', async () => {
    const own = ownOf(plain((await keeper.get(`/g/${slug}/exchange`)).text))
    const signature = JSON.parse(files.get('signature.json')?.toString() ?? '') as { publicKey: string }
    const sum = createHash('sha256').update(Buffer.from(signature.publicKey, 'base64url')).digest('hex')
    expect(own.replaceAll(' ', '')).toBe(sum.slice(0, 32))
    expect(ownOf(plain((await keeper.get(`/g/${slug}/exchange`)).text))).toBe(own)
    expect(await keeper.download(`/g/${slug}/exchange/export.zip`)).toEqual(exported)
  })

  it('is not one’s own word alone: its key has to be confirmed, and by each person', async () => {
    const own = ownOf(plain((await keeper.get(`/g/${slug}/exchange`)).text))
    const { person, said, page } = await bringIn(exported)
    expect(said).toContain(`unchanged since it was signed; the key is not confirmed: ${own}`)
    expect(ownOf(await page())).not.toBe(own)
    expect((await person.post(`/g/${person.slug}/exchange/key`, { name: ' ' })).status).toBe(422)
    await person.post(`/g/${person.slug}/exchange/key`, { name: 'the old place' })
    expect(await page()).toContain('It came in as exported by the old place, unchanged.')
    const other = await fresh.joined(person, 'keeper')
    expect(plain((await other.get(`/g/${person.slug}/exchange`)).text)).toContain('the key is not confirmed')
    const again = await person.download(`/g/${person.slug}/exchange/export.zip`)
    expect([...(await unpacked(again)).keys()].filter((path) => /origins|awaited|keys/.test(path))).toEqual([])
    await forget(fresh)
    expect((await bringIn(again)).said).toContain('It came in as exported by this installation, unchanged.')
  })

  it('in which a row and its sum were changed is said to be changed, and one byte alone refuses it', async () => {
    await forget(fresh)
    const changed = new Map(files)
    const groups = Buffer.from((files.get('data/groups.csv')?.toString() ?? '').replace('Quern Hill', 'Quern Dale'))
    changed.set('data/groups.csv', groups)
    expect((await bringIn(await packed(changed))).said).toContain('not as they were written')
    const sum = (bytes: Buffer | undefined) =>
      createHash('sha256')
        .update(bytes ?? '')
        .digest('hex')
    const descriptor = (files.get('datapackage.json')?.toString() ?? '').replace(
      sum(files.get('data/groups.csv')),
      sum(groups),
    )
    changed.set('datapackage.json', Buffer.from(descriptor))
    const { said, page } = await bringIn(await packed(changed))
    expect(said).toMatch(/It was changed since it was signed \(([0-9a-f]{4} ){7}[0-9a-f]{4}\)/)
    expect(await page()).toContain('It was changed since it was signed')
    await forget(fresh)
    const forger = generateKeyPairSync('ed25519')
    const publicKey = forger.publicKey.export({ format: 'jwk' }).x
    const signature = sign(null, Buffer.from(descriptor), forger.privateKey).toString('base64url')
    const forged = new Map(changed).set(
      'signature.json',
      Buffer.from(JSON.stringify({ algorithm: 'Ed25519', publicKey, signature })),
    )
    const number = createHash('sha256')
      .update(Buffer.from(publicKey ?? '', 'base64url'))
      .digest('hex')
      .slice(0, 4)
    expect((await bringIn(await packed(forged))).said).toContain(`the key is not confirmed: ${number}`)
  })

  it('without a signature, or with one that is none, is said to be so', async () => {
    await forget(fresh)
    const without = new Map(files)
    without.delete('signature.json')
    expect((await bringIn(await packed(without))).said).toContain('without a signature')
    for (const broken of ['{}', 'x', '{"algorithm":"none","publicKey":"","signature":""}']) {
      await forget(fresh)
      const { said } = await bringIn(await packed(new Map(files).set('signature.json', Buffer.from(broken))))
      expect(said).toContain('It was changed since it was signed (no key)')
    }
  })
})

describe('a group that moves', () => {
  it('takes names and roles along where its keeper says so, and addresses only where they say that too', async () => {
    expect(files.has('people.json')).toBe(false)
    const named = await unpacked(await keeper.download(`/g/${slug}/exchange/export.zip?people=names`))
    expect(JSON.parse(named.get('people.json')?.toString() ?? '')).toEqual([
      { name: 'Ada Rook', role: 'keeper', email: null },
      { name: 'Ben <b>Marsh</b>', role: 'recorder', email: null },
    ])
    const whole = await unpacked(await keeper.download(`/g/${slug}/exchange/export.zip?people=with-addresses`))
    expect(whole.get('people.json')?.toString()).toContain(keeper.email)
    for (const one of [named, whole])
      expect([...one.values()].some((bytes) => /argon2|password_hash/.test(bytes.toString()))).toBe(false)
  })

  it('lets nobody in by the file: its people wait for a link or a letter of a keeper', async () => {
    await forget(fresh)
    const { person } = await bringIn(await keeper.download(`/g/${slug}/exchange/export.zip?people=with-addresses`))
    const base = `/g/${person.slug}/people`
    const page = async () => (await person.get(base)).text
    expect(rowOf(await page(), 'Cleo Vane')[1]).toBe('keeper')
    expect(plain(await page())).toContain('Who was in this group where it came from')
    expect(await page()).toContain('Ben &lt;b&gt;Marsh&lt;/b&gt;')
    const [ada, ben] = [...(await page()).matchAll(/action="([^"]+\/awaited\/[0-9a-f-]{36})"/g)].map(
      (one) => one[1] ?? '',
    )
    const reader = await fresh.joined(person, 'reader')
    expect(plain((await reader.get(base)).text)).not.toContain('Who was in this group')
    expect((await reader.post(ben ?? '', { how: 'link' })).status).toBe(403)
    const link = /\/invitations\/[\w-]+/.exec((await person.post(ben ?? '', { how: 'link' })).text)?.[0] ?? ''
    const guest = await fresh.person('Ben Marsh again')
    expect((await guest.post(link)).location).toBe(`/g/${person.slug}`)
    expect(rowOf(await page(), 'Ben Marsh again')[1]).toBe('recorder')
    expect((await person.post(ben ?? '', { how: 'link' })).status).toBe(404)
    await person.post(ada ?? '', { how: 'letter' })
    expect(letters.at(-1)).toMatchObject({ to: keeper.email, subject: 'An invitation to Quern Hill Growers' })
    expect(letters.at(-1)?.text).toMatch(/https:\/\/new\.example\/invitations\/[\w-]{43}/)
    expect(plain(await page())).not.toContain('Who was in this group')
  })

  it('is refused where its list of people was changed', async () => {
    await forget(fresh)
    const named = await unpacked(await keeper.download(`/g/${slug}/exchange/export.zip?people=names`))
    named.set('people.json', Buffer.from('[{"name":"Mallory","role":"keeper","email":null}]\n'))
    expect((await bringIn(await packed(named))).said).toContain('people.json&quot; are not as they were written')
  })
})
