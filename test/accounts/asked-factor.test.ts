import { eq, sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { groups } from '../../src/accounts/accounts.table.ts'
import { addReset } from '../../src/accounts/resets.queries.ts'
import { constraintOf } from '../../src/db/constraint.ts'
import { asMember } from '../../src/db/transaction.ts'
import { shareReport, writeReport } from '../reports/reports.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { type AskedOfDevice, Authenticator } from '../support/authenticator.ts'
import {
  addPasskey,
  codeNow,
  firstPasskey,
  laterCodes,
  passkeyOrigin,
  password,
  showPasskey,
  signInByPasskey,
  signInByPassword,
  withCodes,
} from '../support/factors.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { setUpTrial } from '../support/trial.ts'

let place: Place
beforeAll(async () => {
  place = await openPlace({ origin: passkeyOrigin })
})
afterAll(() => place.close())

const peopleOf = (client: Client) => `/g/${client.slug}/people`
const proofFor = (next: string) => `/account/proof?next=${encodeURIComponent(next)}`
const ask = (keeper: Client, asks: 'yes' | 'no') => keeper.post(`${peopleOf(keeper)}/second-factor`, { asks })

/** A group that asks for more, its keeper with codes, and a recorder with a password alone. */
async function asking() {
  const keeper = await place.keeper()
  const recorder = await place.joined(keeper, 'recorder')
  const { secret } = await withCodes(keeper)
  expect((await ask(keeper, 'yes')).location).toBe(peopleOf(keeper))
  return { keeper, recorder, secret, home: `/g/${keeper.slug}` }
}

describe('a keeper', () => {
  it('asks for more than a password only where they have shown more themselves', async () => {
    const keeper = await place.keeper()
    expect((await ask(keeper, 'yes')).location).toBe(proofFor(peopleOf(keeper)))
    expect(plain((await keeper.get(peopleOf(keeper))).text)).toContain('show a passkey or a code of your own first')
    await withCodes(keeper)
    const alone = await openAlone(keeper)
    expect((await ask(alone, 'yes')).location).toBe(proofFor(peopleOf(keeper)))
    expect((await alone.get(`/g/${keeper.slug}`)).status).toBe(200)
    expect((await ask(keeper, 'yes')).location).toBe(peopleOf(keeper))
    expect((await alone.get(`/g/${keeper.slug}`)).location).toBe(proofFor(`/g/${keeper.slug}`))
    expect((await ask(alone, 'no')).status).toBe(403)
    expect((await ask(keeper, 'no')).location).toBe(peopleOf(keeper))
    expect((await alone.get(`/g/${keeper.slug}`)).status).toBe(200)
  })

  it('sees beforehand who can show more and who would be kept out, which others do not', async () => {
    const keeper = await place.keeper()
    const recorder = await place.joined(keeper, 'recorder')
    await withCodes(keeper)
    const before = (await keeper.get(peopleOf(keeper))).text
    expect(rowOf(before, 'Ada Rook')).toEqual(['Ada Rook', 'keeper', 'yes'])
    expect(rowOf(before, 'Ben Marsh')).toEqual(['Ben Marsh', 'recorder', 'none yet'])
    expect(plain(before)).toContain('Outside then, until they set one up: Ben Marsh.')
    await addPasskey(recorder, new Authenticator())
    const after = (await keeper.get(peopleOf(keeper))).text
    expect([rowOf(after, 'Ben Marsh')[2], plain(after).includes('Outside then')]).toEqual(['yes', false])
    const seen = (await recorder.get(peopleOf(recorder))).text
    expect([rowOf(seen, 'Ada Rook'), plain(seen).includes('More than a password')]).toEqual([
      ['Ada Rook', 'keeper'],
      false,
    ])
  })

  it('has it in the history, and every member is told, once', async () => {
    const { keeper, recorder } = await asking()
    await ask(keeper, 'yes')
    const history = plain((await keeper.get(`/g/${keeper.slug}/history?table=groups`)).text)
    expect(history.match(/Opens only to a passkey or a code: no → yes/g)).toHaveLength(1)
    const letters = plain((await recorder.get('/letters')).text)
    expect(letters.match(/Quern Hill Growers asks for more than a password/g)).toHaveLength(1)
    await ask(keeper, 'no')
    expect(plain((await recorder.get('/letters')).text)).toContain('Quern Hill Growers opens by the password again')
    expect(plain((await keeper.get(`/g/${keeper.slug}/history?table=groups`)).text)).toContain('code: yes → no')
  })

  it('alone may change it, also in the database', async () => {
    const { recorder, home } = await asking()
    const group = sql`(select id from groups where slug = ${home.slice(3)})`
    const found = await place.database.drizzle.execute(sql`select m.group_id as group, m.person_id as person
      from members m where m.group_id = ${group} and m.role = 'recorder'`)
    const [who] = (found as unknown as { rows: { group: string; person: string }[] }).rows
    if (!who) throw new Error(`${recorder.email} is in no group`)
    const taken = asMember(place.database, { personId: who.person, groupId: who.group }, (tx) =>
      tx.update(groups).set({ asksFactor: 0 }).where(eq(groups.id, who.group)),
    )
    expect(await taken.catch(constraintOf)).toBe('factors_are_asked_by_keepers')
  })
})

/** In a browser that came in by the password before the codes were set up. */
async function openAlone(person: Client): Promise<Client> {
  const confirm = (at: ReturnType<typeof sql>) =>
    place.database.drizzle.execute(sql`update second_steps set confirmed_at = ${at}
      where person_id = (select id from people where email = ${person.email})`)
  await confirm(sql`null`)
  const open = await signInByPassword(place, person)
  await confirm(sql`now()`)
  return open
}

describe('a member with a password alone', () => {
  it('is led to set one up and back to where they were', async () => {
    const { recorder, home } = await asking()
    const next = `${home}/weeks/2026-W05?rows=all`
    const led = await recorder.get(next)
    expect([led.status, led.location]).toEqual([303, proofFor(next)])
    const page = (await recorder.get(led.location)).text
    expect(plain(page)).toContain(
      'The group Quern Hill Growers opens only to those who have shown more than a password.',
    )
    expect(page).toContain(`href="/account/codes?next=${encodeURIComponent(next)}"`)
    expect(page).toContain(`href="/account/passkeys?next=${encodeURIComponent(next)}"`)
    const begun = await recorder.post('/account/codes', { codesPassword: password, next })
    expect(begun.location).toBe(`/account/codes?next=${encodeURIComponent(next)}`)
    const secret = /<code>([A-Z2-7 ]{39})<\/code>/.exec((await recorder.get(begun.location)).text)?.[1] ?? ''
    const done = await recorder.post('/account/codes/confirm', { code: codeNow(secret.replaceAll(' ', '')), next })
    expect(done.text).toContain(`href="${next}">Go on to where you were`)
    expect((await recorder.get(next)).status).toBe(200)
    expect((await recorder.get(led.location)).location).toBe(next)
  })

  it('shows a passkey that they have, or sets one up, and goes on', async () => {
    const { recorder, home } = await asking()
    const device = new Authenticator()
    expect((await addPasskey(recorder, device, 'blue phone', home)).location).toBe(home)
    expect((await recorder.get(home)).status).toBe(200)
    const alone = await signInByPassword(place, recorder)
    expect((await alone.get(home)).location).toBe(proofFor(home))
    expect((await alone.get(proofFor(home))).text).toContain(`name="back" value="${home}"`)
    expect((await showPasskey(alone, device, home)).location).toBe(home)
    expect((await alone.get(home)).status).toBe(200)
    const byDevice = await signInByPasskey(place, device)
    expect((await byDevice.get(home)).status).toBe(200)
  })

  it('shows a code without scripts, a wrong one opens nothing, and guessing is stopped', async () => {
    const { keeper, secret, home } = await asking()
    const alone = await openAlone(keeper)
    expect((await alone.get(proofFor(home))).text).toContain(
      '<form class="plain" method="post" action="/account/proof"',
    )
    const wrong = await alone.post('/account/proof', { code: '000000', next: home })
    expect([wrong.status, (await alone.get(home)).status]).toEqual([422, 303])
    await laterCodes(place)
    expect((await alone.post('/account/proof', { code: codeNow(secret), next: home })).location).toBe(home)
    expect((await alone.get(home)).status).toBe(200)
    const guessing = await openAlone(keeper)
    guessing.forwardedFor = '198.51.100.80'
    const statuses: number[] = []
    for (let i = 0; i < 11; i++) statuses.push((await guessing.post('/account/proof', { code: 'nothing' })).status)
    expect(statuses).toEqual([...Array.from({ length: 10 }, () => 422), 429])
  })

  it.each(['https://elsewhere.example/', '//elsewhere.example', '/\\elsewhere.example', 'javascript:alert(1)'])(
    'never goes on to %s',
    async (next) => {
      const { keeper, secret, recorder } = await asking()
      expect((await keeper.get(proofFor(next))).location).toBe('/')
      expect((await recorder.get(proofFor(next))).text).not.toContain(encodeURIComponent(next))
      const alone = await openAlone(keeper)
      await laterCodes(place)
      expect((await alone.post('/account/proof', { code: codeNow(secret), next })).location).toBe('/')
      const [person, device] = [await place.person(), new Authenticator()]
      expect((await addPasskey(person, device, 'blue phone', next)).location).toBe('/')
      expect((await showPasskey(person, device, next)).location).toBe('/')
    },
  )

  it('is told by a form that it was not taken and where to go on, and a script why', async () => {
    const { recorder, home } = await asking()
    const refused = await recorder.post(`${home}/notes/notes`, {})
    expect([refused.status, plain(refused.text).includes('A passkey or a code first')]).toEqual([403, true])
    expect(refused.text).toContain(`href="${proofFor(home)}"`)
    const { status, said } = await recorder.ask<{ problem: string }>(`${home}/weeks/2026-W05`)
    expect([status, said.problem]).toEqual([403, 'factor-first'])
    const german = await place.keeper({ locale: 'de-AT', timeZone: 'Europe/Vienna', currency: 'EUR' })
    const ben = await place.joined(german, 'recorder')
    await withCodes(german)
    await ask(german, 'yes')
    const answer = await ben.ask<{ said: string }>(`/g/${german.slug}/weeks/2026-W05`)
    expect(answer.said.said).toContain('mehr als ein Passwort')
    expect((await ben.get(proofFor(`/g/${german.slug}`))).text).toContain('<html lang="de-AT"')
  })

  it('keeps nothing of the group on a device: it is not among theirs until they have shown more', async () => {
    const { recorder } = await asking()
    const other = await place.keeper()
    await recorder.post(await invitationOf(other))
    const groupsSaid = async () => {
      const { groups: open } = JSON.parse((await recorder.get('/who')).text) as { groups: string[] }
      return open
    }
    expect(await groupsSaid()).toEqual([other.slug])
    await withCodes(recorder)
    expect((await groupsSaid()).sort()).toEqual([recorder.slug, other.slug].sort())
  })

  it('is not touched in another group, and whoever has a link reads its report', async () => {
    const trial = await setUpTrial(place)
    const link = await shareReport(trial, (await writeReport(trial)).id)
    const alone = await place.joined(trial.keeper, 'reader')
    await withCodes(trial.keeper)
    await ask(trial.keeper, 'yes')
    expect((await alone.get(trial.base)).status).toBe(303)
    expect((await place.guest().get(link)).status).toBe(200)
    expect((await alone.get(link)).status).toBe(200)
    const other = await place.keeper()
    await alone.post(await invitationOf(other))
    expect((await alone.get(`/g/${other.slug}`)).status).toBe(200)
    const guest = place.guest()
    expect((await guest.get((await guest.post('/demo')).location)).status).toBe(200)
  })
})

async function invitationOf(keeper: Client): Promise<string> {
  const page = await keeper.post(`${peopleOf(keeper)}/invitations`, { role: 'reader' })
  return /\/invitations\/[\w-]{20,}/.exec(page.text)?.[0] ?? ''
}

describe('whoever has stolen the password of such a member', () => {
  it('adds no factor of their own, and takes none away', async () => {
    const { recorder, home } = await asking()
    const device = new Authenticator()
    await addPasskey(recorder, device)
    const thief = await signInByPassword(place, recorder)
    const id = await firstPasskey(thief)
    const closed = [
      await thief.post('/account/codes', { codesPassword: password }),
      await thief.post('/account/passkeys/removal', { removed: id, removePassword: password }),
      await thief.post('/account/passkeys/alone', { giveUpPassword: password }),
    ]
    expect(closed.map(({ status }) => status)).toEqual([403, 403, 403])
    expect(closed[0]?.text).toContain(`href="${proofFor('/account')}"`)
    const asked = await thief.ask<{ problem: string }>('/account/passkeys/asked', { addPassword: password })
    expect([asked.status, asked.said.problem]).toEqual([403, 'factor-first'])
    await place.database.drizzle.execute(sql`insert into second_steps (person_id, secret)
      select id, 'AAAA' from people where email = ${recorder.email}`)
    expect((await thief.post('/account/codes/confirm', { code: codeNow('AAAA') })).status).toBe(403)
    expect((await thief.get(home)).status).toBe(303)
    expect((await (await signInByPasskey(place, device)).get(home)).status).toBe(200)
  })

  it('while its owner, who lost theirs, sets up another once taken out and invited anew', async () => {
    const { keeper, recorder, home } = await asking()
    await addPasskey(recorder, new Authenticator())
    const alone = await signInByPassword(place, recorder)
    const text = (await keeper.get(peopleOf(keeper))).text
    const page = /href="([^"]+\/people\/[0-9a-f-]{36})">Ben Marsh</.exec(text)?.[1] ?? ''
    await keeper.post(`${page}/removal`, { reason: 'lost the phone' })
    const removal = { removed: await firstPasskey(alone), removePassword: password }
    expect((await alone.post('/account/passkeys/removal', removal)).status).toBe(303)
    await alone.post(await invitationOf(keeper))
    expect((await alone.get(home)).status).toBe(303)
    await withCodes(alone)
    expect((await alone.get(home)).status).toBe(200)
  })
})

describe('the only keeper, who has lost what they showed', () => {
  it('sets up another once whoever runs the service has taken the lost one away', async () => {
    const keeper = await place.keeper()
    const device = new Authenticator()
    await addPasskey(keeper, device)
    await ask(keeper, 'yes')
    const home = `/g/${keeper.slug}`
    const token = await addReset(place.database, keeper.email, { withoutPasskeys: true })
    expect((await keeper.get(home)).location).toBe(proofFor(home))
    const newPassword = 'seven herons over the weir'
    expect((await place.guest().post(`/reset/${token}`, { newPassword })).status).toBe(303)
    const alone = await signInByPassword(place, keeper, newPassword)
    expect((await alone.get(home)).location).toBe(proofFor(home))
    await addPasskey(alone, new Authenticator(), 'new phone', home, newPassword)
    expect((await alone.get(home)).status).toBe(200)
    const guest = place.guest()
    const { said } = await guest.ask<AskedOfDevice>('/sign-in/passkey/asked')
    const lost = device.show(said, { origin: passkeyOrigin })
    expect((await guest.post('/sign-in/passkey', { answer: lost })).status).toBe(422)
  })
})

describe('an account that has one', () => {
  const account = '/account'
  const deletion = (of: Client, deletionPassword = password) => of.post('/account/deletion', { deletionPassword })

  it('is deleted only where a code was shown, which is asked for first, and then by the password', async () => {
    const person = await place.person()
    const { secret } = await withCodes(person)
    const alone = await openAlone(person)
    const { text } = await alone.get(account)
    expect(text).not.toContain('action="/account/deletion"')
    expect(text).toContain(`href="${proofFor(account)}"`)
    expect((await deletion(alone)).location).toBe(proofFor(account))
    expect((await person.get(account)).status).toBe(200)
    await laterCodes(place)
    expect((await alone.post('/account/proof', { code: codeNow(secret), next: account })).location).toBe(account)
    expect((await alone.get(account)).text).toContain('action="/account/deletion"')
    expect((await deletion(alone, 'not this')).status).toBe(422)
    expect((await deletion(alone)).location).toBe('/')
    expect((await person.get(account)).status).toBe(303)
  })

  it('is deleted only where a passkey was shown, which then stands for the password too', async () => {
    const [person, device] = [await place.person(), new Authenticator()]
    await addPasskey(person, device)
    const alone = await signInByPassword(place, person)
    expect((await deletion(alone)).location).toBe(proofFor(account))
    expect((await showPasskey(alone, device, account)).location).toBe(account)
    expect((await deletion(alone, '')).location).toBe('/')
  })

  it('is deleted by the password where nothing else can be shown', async () => {
    const person = await place.person()
    expect((await person.get(account)).text).toContain('action="/account/deletion"')
    expect((await deletion(person)).location).toBe('/')
  })
})

describe('where it was asked for', () => {
  it('a factor that is taken away closes the group until another is shown', async () => {
    const { keeper, home } = await asking()
    expect((await keeper.post('/account/codes/end', { codesPassword: password })).status).toBe(303)
    expect((await keeper.get(home)).location).toBe(proofFor(home))
    await addPasskey(keeper, new Authenticator())
    expect((await keeper.get(home)).status).toBe(200)
  })

  it('an export says nothing of it, and who brings it in elsewhere is not kept out', async () => {
    const { keeper, home } = await asking()
    const bytes = await keeper.download(`${home}/exchange/export.zip`)
    const elsewhere = await openPlace()
    const person = await elsewhere.person()
    const brought = await person.upload('/groups/bring-back', {}, { name: 'export.zip', bytes })
    expect([brought.status, (await person.get(brought.location)).status]).toEqual([303, 200])
    const stands = await elsewhere.database.drizzle.execute(sql`select asks_factor from groups`)
    expect((stands as unknown as { rows: object[] }).rows).toEqual([{ asks_factor: 0 }])
    await elsewhere.close()
  })
})
