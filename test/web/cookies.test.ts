import { afterAll, beforeAll, expect, it } from 'vitest'
import { buildApp } from '../../src/app.ts'
import type { Database } from '../../src/db/database.ts'
import { openTestDatabase } from '../support/database.ts'

let database: Database
let app: Awaited<ReturnType<typeof buildApp>>
beforeAll(async () => {
  database = await openTestDatabase()
  app = await buildApp({ database, root: process.cwd(), secureCookies: true, trustProxy: ['127.0.0.1'], demo: false })
})
afterAll(async () => {
  await app.close()
  await database.close()
})

const host = 'evenground.example'

it('under TLS what signs in and what guards forms is of this host alone, and sent over TLS alone', async () => {
  const page = await app.inject({ url: '/sign-up', headers: { host, 'x-forwarded-proto': 'https' } })
  const [form] = page.cookies
  expect(form).toMatchObject({ name: '__Host-evenground-form', path: '/', secure: true, httpOnly: true })
  const headers = { host, origin: `https://${host}`, 'x-forwarded-proto': 'https' }
  const _csrf = /name="_csrf" value="([^"]+)"/.exec(page.body)?.[1] ?? ''
  const typed = { _csrf, name: 'Ada Rook', email: 'ada@example.org', password: 'long enough to keep' }
  const answer = await app.inject({
    ...{ method: 'POST', url: '/sign-up', cookies: { [form?.name ?? '']: form?.value ?? '' } },
    headers: { ...headers, 'content-type': 'application/x-www-form-urlencoded' },
    payload: new URLSearchParams(typed).toString(),
  })
  expect(answer.statusCode).toBe(303)
  const session = answer.cookies.find(({ name }) => name === '__Host-evenground')
  expect(session).toMatchObject({ path: '/', secure: true, httpOnly: true, sameSite: 'Lax' })
  expect(session?.domain).toBeUndefined()
  const asked = (cookies: Record<string, string>) => app.inject({ url: '/account', headers, cookies })
  expect((await asked({ '__Host-evenground': session?.value ?? '' })).statusCode).toBe(200)
  // By its plain name another page of the same site could have set it.
  expect((await asked({ evenground: session?.value ?? '' })).statusCode).toBe(303)
})
