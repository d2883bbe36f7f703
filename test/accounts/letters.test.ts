import { createServer } from 'node:net'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { type Letter, postBy } from '../../src/web/mail.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'

const letters: Letter[] = []
let place: Place
beforeAll(async () => {
  const post = { send: (letter: Letter) => void letters.push(letter) }
  place = await openPlace({ mailing: { post, origin: 'https://gardens.example' } })
})
afterAll(() => place.close())
beforeEach(() => void letters.splice(0))

/** A letter that is not waited for by the answer. */
async function arrived(count: number): Promise<readonly Letter[]> {
  for (let i = 0; i < 200 && letters.length < count; i++) await new Promise((resolve) => setTimeout(resolve, 10))
  return letters
}

describe('a forgotten password', () => {
  it('is chosen anew by a link in a letter, once, and the letter says so', async () => {
    const ada = await place.person()
    const guest = place.guest()
    expect(plain((await guest.get('/sign-in')).text)).toContain('The password is forgotten')
    expect((await guest.post('/forgotten', { email: ada.email.toUpperCase() })).location).toBe('/sign-in')
    const [link] = await arrived(1)
    expect(link).toMatchObject({ to: ada.email, subject: 'A new password' })
    const address = /https:\/\/gardens\.example(\/reset\/[\w-]{43})/.exec(link?.text ?? '')?.[1] ?? ''
    expect((await guest.post(address, { newPassword: 'seven herons over the weir' })).status).toBe(303)
    expect((await arrived(2))[1]).toMatchObject({ to: ada.email, subject: 'Your password was changed' })
    expect((await guest.get(address)).status).toBe(404)
  })

  it('is answered alike where nobody has the address, and nothing is sent', async () => {
    const ada = await place.person()
    const [known, unknown] = [place.guest(), place.guest()]
    const there = await known.post('/forgotten', { email: ada.email })
    const nobody = await unknown.post('/forgotten', { email: 'nobody@example.org' })
    expect([nobody.status, nobody.location]).toEqual([there.status, there.location])
    expect(plain((await unknown.get('/sign-in')).text)).toBe(plain((await known.get('/sign-in')).text))
    await arrived(2)
    expect(letters.map(({ to }) => to)).toEqual([ada.email])
  })

  it('is asked for three times an hour for one address, from wherever', async () => {
    const ada = await place.person()
    const status: number[] = []
    for (let i = 0; i < 4; i++) {
      const guest = place.guest()
      guest.forwardedFor = `10.77.0.${i + 1}`
      status.push((await guest.post('/forgotten', { email: ada.email })).status)
    }
    expect(status).toEqual([303, 303, 303, 429])
    expect((await place.guest().post('/forgotten', { email: 'no address' })).status).toBe(422)
  })

  it('is a matter of the operator where no mail is set up', async () => {
    const without = await openPlace()
    const guest = without.guest()
    expect(plain((await guest.get('/forgotten')).text)).toContain('Whoever runs this service can make you a link')
    expect((await guest.get('/forgotten')).text).not.toContain('<form')
    await without.close()
  })
})

it('what touches a person is written to them, in the language of their group', async () => {
  const keeper = await place.keeper({ locale: 'de-AT', timeZone: 'Europe/Vienna', currency: 'EUR' })
  const ben = await place.joined(keeper, 'reader')
  const people = (await keeper.get(`/g/${keeper.slug}/people`)).text
  const page = /href="([^"]+\/people\/[0-9a-f-]{36})">Ben Marsh</.exec(people)?.[1] ?? ''
  await keeper.post(`${page}/role`, { role: 'recorder' })
  await ben.post('/account/address', { email: `new-${ben.email}`, addressPassword: 'long enough to keep' })
  await ben.post('/account/password', {
    presentPassword: 'long enough to keep',
    newPassword: 'seven herons over the weir',
  })
  await keeper.post(`${page}/removal`, { reason: 'moved away', sure: 'yes' })
  const [role, address, password, out] = await arrived(4)
  expect(role).toMatchObject({ to: ben.email, subject: 'Deine Rolle in Quern Hill Growers' })
  expect(role?.text).toContain('du trägst ein von nun an')
  // Of another address the one before is told, or a thief would hear of it alone.
  expect(address).toMatchObject({ to: ben.email, text: expect.stringContaining(`new-${ben.email}`) as string })
  expect(password).toMatchObject({ to: `new-${ben.email}`, subject: 'Dein Passwort wurde geändert' })
  expect(out).toMatchObject({ to: `new-${ben.email}` })
  expect(letters).toHaveLength(4)
})

describe('by SMTP (RFC 5321)', () => {
  /** As much of a mail server as a letter meets. */
  function mailServer(refuses: boolean) {
    const got: string[] = []
    const server = createServer((socket) => {
      let inLetter = false
      socket.on('error', () => undefined)
      socket.write('220 here\r\n')
      socket.on('data', (chunk) => {
        for (const line of String(chunk).split('\r\n').slice(0, -1)) {
          got.push(line)
          if (inLetter) {
            if (line === '.') {
              inLetter = false
              socket.write('250 taken\r\n')
            }
          } else if (/^(EHLO|HELO|MAIL)/.test(line)) socket.write('250 go on\r\n')
          else if (line.startsWith('RCPT')) socket.write(refuses ? '550 nobody of that name\r\n' : '250 go on\r\n')
          else if (line === 'DATA') {
            inLetter = true
            socket.write('354 say it\r\n')
          } else if (line === 'QUIT') socket.end('221 bye\r\n')
        }
      })
    })
    return new Promise<{ url: string; got: string[]; close: () => void }>((resolve) => {
      server.listen(0, '127.0.0.1', () => {
        const address = server.address()
        const port = typeof address === 'object' && address ? address.port : 0
        resolve({ url: `smtp://127.0.0.1:${port}`, got, close: () => server.close() })
      })
    })
  }
  const letter = { to: 'ada@example.org', subject: 'A new password', text: 'Choose it here.\nWithin an hour.' }

  it('a letter goes out as it was written', async () => {
    const server = await mailServer(false)
    const trouble: string[] = []
    const post = postBy(server.url, 'garden@example.org', (code) => trouble.push(code))
    post.send(letter)
    await post.sent()
    server.close()
    expect(trouble).toEqual([])
    expect(server.got).toEqual(
      expect.arrayContaining([
        'MAIL FROM:<garden@example.org>',
        'RCPT TO:<ada@example.org>',
        'Subject: A new password',
        'Choose it here.',
        'Within an hour.',
      ]),
    )
  })

  it('one that is refused, or finds nobody, is told by a code and stops nothing', async () => {
    const server = await mailServer(true)
    const trouble: string[] = []
    const [refused, away] = [server.url, 'smtp://127.0.0.1:1'].map((url) =>
      postBy(url, 'garden@example.org', (code) => trouble.push(code)),
    )
    refused?.send(letter)
    await refused?.sent()
    away?.send(letter)
    await away?.sent()
    server.close()
    expect(trouble).toEqual(['EENVELOPE', expect.stringMatching(/^E(CONNREFUSED|SOCKET|CONNECTION)$/)])
  })
})
