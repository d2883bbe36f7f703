import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { setUpTrial } from '../support/trial.ts'

let place: Place
let keeper: Client
let base: string
beforeAll(async () => {
  place = await openPlace()
  if (ofExample) {
    keeper = await place.person()
    base = `/g/${(await keeper.post('/demo/copy')).location.split('/')[2] ?? ''}`
    return
  }
  const trial = await setUpTrial(place)
  keeper = trial.keeper
  base = trial.base
  const plantingId = Object.values(trial.plantings)[0]
  const harvest = { id: newId(), plantingId, pickedOn: '2026-01-28', weight: '2 kg' }
  await keeper.post(`${base}/weeks/2026-W05/harvests`, harvest)
})
afterAll(() => place.close())

/** The whole example has more kinds of rows, and takes three times as long: `npm run test:every-field`. */
const ofExample = process.env.EVERY_FIELD === 'example'

interface Field {
  readonly name: string
  readonly type: string
  readonly value: string
}
interface Form {
  readonly action: string
  readonly fields: readonly Field[]
}

const read = (html: string) =>
  html
    .replace(/&quot;/g, '"')
    .replace(/&#39;/g, "'")
    .replace(/&lt;/g, '<')
    .replace(/&amp;/g, '&')
const attribute = (tag: string, name: string) => read(new RegExp(`\\s${name}="([^"]*)"`).exec(tag)?.[1] ?? '')

/** The forms of a page, each with its fields as a browser would send them untouched. */
function formsIn(html: string): Form[] {
  return [...html.matchAll(/<form\b[^>]*method="post"[\s\S]*?<\/form>/g)].map(([form]) => {
    const fields: Field[] = []
    for (const [tag] of form.matchAll(/<(?:input|textarea)\b[^>]*>/g)) {
      const type = tag.startsWith('<textarea') ? 'textarea' : attribute(tag, 'type') || 'text'
      if (['checkbox', 'radio'].includes(type) && !/\schecked/.test(tag)) continue
      fields.push({ name: attribute(tag, 'name'), type, value: attribute(tag, 'value') })
    }
    for (const [select, inside] of form.matchAll(/<select\b[^>]*>([\s\S]*?)<\/select>/g)) {
      const options = [...(inside ?? '').matchAll(/<option\b[^>]*>/g)].map(([tag]) => tag)
      const chosen =
        options.find((tag) => /\sselected/.test(tag)) ?? options.find((tag) => attribute(tag, 'value') !== '')
      fields.push({ name: attribute(select, 'name'), type: 'select', value: chosen ? attribute(chosen, 'value') : '' })
    }
    return { action: attribute(form, 'action'), fields: fields.filter(({ name }) => name !== '' && name !== '_csrf') }
  })
}

/** What an address is of, whatever its rows: one or two of each kind are looked at. */
const kindOf = (address: string) =>
  address
    .replace(/\?.*$/, '')
    .replace(/[0-9a-f]{8}-[0-9a-f-]{27}/g, ':id')
    .replace(/\d{4}-W\d\d/g, ':week')

/** What ends the walk itself, or asks of other people and files. */
const left =
  /\/(sign-out|leave|ending|removal|undo|export\.zip|deletion|demo)|\.(json|csv|zip|R|svg|png)($|\?)|\/pictures\//

async function walk(): Promise<Map<string, Form>> {
  const forms = new Map<string, Form>()
  const seen = new Map<string, number>()
  const queue = [base, '/account', '/account/passkeys', '/account/codes', '/groups/new', '/sign-up', '/sign-in']
  for (let address = queue.shift(); address !== undefined; address = queue.shift()) {
    const kind = kindOf(address)
    if ((seen.get(kind) ?? 0) > 0 || left.test(address)) continue
    seen.set(kind, 1)
    const { status, text, headers } = await keeper.get(address)
    expect([address, status < 500]).toEqual([address, true])
    if (!String(headers['content-type']).startsWith('text/html')) continue
    for (const form of formsIn(text)) {
      const key = `${kindOf(form.action)} ${form.fields.map(({ name }) => name.replace(/[0-9a-f-]{36}/g, ':id')).join()}`
      if (!left.test(form.action) && !forms.has(key)) forms.set(key, form)
    }
    for (const [, href] of text.matchAll(/\shref="([^"#]+)/g)) {
      const to = read(href ?? '')
      if (to.startsWith(`${base}/`) || to === base) queue.push(to)
    }
  }
  return forms
}

const hostile = [
  `"><script>alert(1)</script>`,
  `'; DROP TABLE groups; -- `,
  '=HYPERLINK("http://x.example","y")',
  '${7*7}<%= 7*7 %>{{7*7}}',
  "' OR '1'='1",
  '\u202e\u0000\uFFFF%00',
]
const typable = (type: string) => !['hidden', 'select', 'file', 'checkbox', 'radio'].includes(type)

/** A form with what is hidden and chosen as it was, and this text in some fields that can be typed in. */
function filled({ fields }: Form, text: string, into: (name: string) => boolean): Record<string, unknown> {
  const sent: Record<string, unknown> = {}
  for (const { name, type, value } of fields) {
    const typed = typable(type) && into(name) ? text : value
    // Of a list every value goes.
    sent[name] = name.endsWith('[]') ? [...((sent[name] as string[] | undefined) ?? []), typed] : typed
  }
  return sent
}

it('SQL, script and formulas in every field of every form are data: refused in words or shown as they were typed', async () => {
  const forms = await walk()
  expect(forms.size).toBeGreaterThan(40)
  const wrong: string[] = []
  let posts = 0
  // A form that no browser would send so may lead to a field that it has not.
  keeper.checks = false
  const send = async ({ action }: Form, fields: Record<string, unknown>, what: string) => {
    posts += 1
    const { status, text } = await keeper.post(action, fields)
    if (status >= 500) wrong.push(`${action} ${what}: ${status}`)
    if (String(text).includes('<script>alert')) wrong.push(`${action} ${what}: as markup`)
  }
  let turn = 0
  for (const form of forms.values()) {
    const names = form.fields.filter(({ type }) => typable(type)).map(({ name }) => name)
    const next = () => hostile[turn++ % hostile.length] ?? ''
    if (names.length > 0)
      await send(
        form,
        filled(form, next(), () => true),
        'all',
      )
    for (const name of names.slice(0, 2))
      await send(
        form,
        filled(form, next(), (one) => one === name),
        name,
      )
    const hidden = form.fields.filter(({ type }) => type === 'hidden' || type === 'select').slice(0, 1)
    for (const { name } of hidden) {
      const odd = form.fields.map((field) => (field.name === name ? { ...field, value: next() } : field))
      await send(
        form,
        filled({ ...form, fields: odd }, '', () => false),
        `hidden ${name}`,
      )
    }
  }
  keeper.checks = true
  expect(wrong).toEqual([])
  expect(posts).toBeGreaterThan(150)
  const left = (await place.database.drizzle.execute(sql`select count(*)::int as count from groups`)) as unknown as {
    rows: { count: number }[]
  }
  expect(left.rows[0]?.count).toBeGreaterThan(0)
  // What was stored of it stands on no page as markup: each page that is opened is looked at for scripts of its own.
  await walk()
}, 240_000)
