import type { FastifyInstance } from 'fastify'
import request from 'supertest'
import { type AppOptions, buildApp } from '../../src/app.ts'
import type { Database } from '../../src/db/database.ts'
import { newId } from '../../src/db/new-id.ts'
import { usualDay } from '../../src/demo/generator.ts'
import { openTestDatabase } from './database.ts'
import { checkPage } from './page-checks.ts'

export interface Answer {
  readonly status: number
  readonly text: string
  readonly location: string
  readonly headers: Record<string, string>
}

/** A browser without scripts: keeps cookies, sends the form's token and its Origin, checks each page it opens. */
const inALine = (tag: string) => tag.replaceAll('\n', ' ')

export class Client {
  private readonly cookies: Map<string, string>
  private token = ''
  /** Whether each page that it opens is looked at. */
  checks = true
  private readonly app: FastifyInstance
  slug = ''
  email = ''
  userAgent = ''
  /** Each test person comes from an address of their own: tries are counted by address. */
  forwardedFor = '10.9.9.9'

  constructor(app: FastifyInstance, cookies = new Map<string, string>()) {
    this.app = app
    this.cookies = cookies
  }

  /** The same browser, where another process answers it. */
  at(app: FastifyInstance): Client {
    const other = new Client(app, this.cookies)
    other.forwardedFor = this.forwardedFor
    return other
  }

  async get(address: string): Promise<Answer> {
    return this.took(
      await request(this.app.server)
        .get(address)
        .set('Cookie', this.cookieHeader())
        .set('User-Agent', this.userAgent)
        .set('X-Forwarded-For', this.forwardedFor),
      address,
    )
  }

  async post(address: string, fields: Record<string, unknown> = {}, origin = 'http://127.0.0.1'): Promise<Answer> {
    if (!this.token) await this.get('/sign-in')
    const sending = request(this.app.server).post(address).type('form').set('Cookie', this.cookieHeader())
    const answer = await sending
      .set('X-Forwarded-For', this.forwardedFor)
      .set('User-Agent', this.userAgent)
      .set('Host', '127.0.0.1')
      .set('Origin', origin)
      .send({ _csrf: this.token, ...fields })
    return this.took(answer, address)
  }

  /** A form as a script of ours sends it: it is answered in figures. */
  async ask<T>(address: string, fields: Record<string, unknown> = {}): Promise<{ status: number; said: T }> {
    if (!this.token) await this.get('/sign-in')
    const sending = request(this.app.server).post(address).type('form').set('Cookie', this.cookieHeader())
    sending.set('Host', '127.0.0.1').set('Origin', 'http://127.0.0.1').set('Accept', 'application/json')
    const answer = await sending.set('X-Forwarded-For', this.forwardedFor).send({ _csrf: this.token, ...fields })
    return { status: answer.status, said: answer.body as T }
  }

  /** A form with a file, its token first. */
  async upload(
    address: string,
    fields: Record<string, string>,
    file: { name: string; bytes: Buffer },
  ): Promise<Answer> {
    if (!this.token) await this.get('/sign-in')
    const sending = request(this.app.server).post(address).set('Cookie', this.cookieHeader())
    sending.set('X-Forwarded-For', this.forwardedFor).set('Host', '127.0.0.1').set('Origin', 'http://127.0.0.1')
    for (const [name, value] of Object.entries({ _csrf: this.token, ...fields })) sending.field(name, value)
    return this.took(await sending.attach('file', file.bytes, file.name), address)
  }

  /** A file as it is sent. */
  async download(address: string): Promise<Buffer> {
    const answer = await request(this.app.server)
      .get(address)
      .set('Cookie', this.cookieHeader())
      .buffer(true)
      .parse((response, done) => {
        const chunks: Buffer[] = []
        response.on('data', (chunk: Buffer) => chunks.push(chunk))
        response.on('end', () => done(null, Buffer.concat(chunks)))
      })
    return answer.body as Buffer
  }

  async json<T>(address: string): Promise<T> {
    return JSON.parse((await this.get(address)).text) as T
  }

  private took(answer: request.Response, address: string): Answer {
    for (const line of [answer.headers['set-cookie'] ?? []].flat() as string[]) {
      const [name = '', value = ''] = (line.split(';')[0] ?? '').split(/=(.*)/s)
      if (/expires=Thu, 01 Jan 1970/i.test(line)) this.cookies.delete(name)
      else this.cookies.set(name, value)
      // Forms of the session before this one are of no use any more.
      if (name === 'evenground') this.token = ''
    }
    // Of a picture the library gives bytes alone.
    const sent = answer.type.startsWith('image/') ? String(answer.body) : answer.text
    if (answer.type === 'text/html' && this.checks) checkPage(sent, address)
    // A view has a tag a line; where its lines end says nothing.
    const text = answer.type === 'text/html' ? sent.replace(/>\n+</g, '><').replace(/<[^>]+>/g, inALine) : sent
    this.token = /name="_csrf" value="([^"]+)"/.exec(text ?? '')?.[1] ?? this.token
    const location = String(answer.headers.location ?? '')
    return { status: answer.status, text, location, headers: answer.headers as Record<string, string> }
  }

  cookieHeader(): string[] {
    return [[...this.cookies].map(([name, value]) => `${name}=${value}`).join('; ')]
  }
}

export interface Place {
  readonly app: FastifyInstance
  readonly database: Database
  guest(): Client
  person(name?: string): Promise<Client>
  keeper(group?: Partial<Record<string, string>>): Promise<Client>
  joined(keeper: Client, role: 'reader' | 'recorder' | 'keeper'): Promise<Client>
  close(): Promise<void>
}

const quernHill = {
  name: 'Quern Hill Growers',
  currency: 'NZD',
  timeZone: 'Pacific/Auckland',
  locale: 'en-NZ',
  weightUnit: 'kg',
  areaUnit: 'm2',
}

export async function openPlace(
  more: Pick<AppOptions, 'logs' | 'watch' | 'mailing' | 'origin' | 'quotas'> = {},
): Promise<Place> {
  const database = await openTestDatabase()
  const app = await buildApp({
    database,
    root: process.cwd(),
    secureCookies: false,
    trustProxy: ['127.0.0.1'],
    demo: true,
    demoDay: usualDay,
    demoReports: false,
    ...more,
  })
  await app.ready()
  await app.listen({ host: '127.0.0.1', port: 0 })
  let people = 0
  const person = async (name = 'Ada Rook') => {
    const client = new Client(app)
    const email = `person-${++people}-${newId()}@example.org`
    client.email = email
    await signUp(client, { name, email, password: 'long enough to keep' }, people)
    return client
  }
  return {
    app,
    database,
    guest: () => new Client(app),
    person,
    keeper: async (group = {}) => {
      const client = await person()
      const made = await client.post('/groups', { ...quernHill, ...group })
      client.slug = made.location.split('/')[2] ?? ''
      return client
    },
    joined: async (keeper, role) => {
      const page = await keeper.post(`/g/${keeper.slug}/people/invitations`, { role })
      const client = await person('Ben Marsh')
      await client.post(/\/invitations\/[\w-]+/.exec(page.text)?.[0] ?? '')
      client.slug = keeper.slug
      return client
    },
    close: async () => {
      await app.close()
      await database.close()
    },
  }
}

async function signUp(client: Client, fields: Record<string, string>, people: number): Promise<void> {
  client.forwardedFor = `10.0.${Math.floor(people / 250)}.${people % 250}`
  await client.post('/sign-up', fields)
}
