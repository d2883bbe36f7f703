import view from '@fastify/view'
import { Eta } from 'eta'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { sent } from '../lookups/unsaid.ts'
import { directionFor, languageFor, languageOfPage, wordsFor } from '../words/locales.ts'
import type { PageName } from '../words/page-chapters.ts'
import type { Assets } from './assets.ts'
import { noticeCookie } from './cookies.ts'
import { FinishedPages } from './finished-pages.ts'
import { headOf } from './head.ts'
import { keptFor } from './kept-pages.ts'
import { sendEither } from './packed-answers.ts'
import { undoableTables } from './undoable.ts'

interface PageOptions {
  readonly status?: number
  readonly title: string
  /** A page outside of a group that a script makes quicker too. */
  readonly scripted?: boolean
  /** Set on a page that guests see: it names no group and no person. */
  readonly bare?: boolean
  /** Of a page that guests see: the locale of the group whose report it is. */
  readonly locale?: string
  /** Keeps the rendered page under this name: it holds no form and nothing of the person who asks. */
  readonly keepAs?: string
  /** What a link to this page says before it is opened. */
  readonly about?: string
}

/** A form that takes back what was just saved, offered beside the notice. */
export interface Undo {
  readonly address: string
  readonly fields: Readonly<Record<string, string>>
}

declare module 'fastify' {
  interface FastifyInstance {
    /** A page that stands before any request has been looked at: in English, of nobody. */
    bareHtml(name: string, page: object, title: string, scripted?: boolean): Promise<string>
  }
  interface FastifyReply {
    page(name: PageName, page: object, options: PageOptions): Promise<FastifyReply>
    /** The page that was kept under a name, or undefined. */
    kept(name: string): FastifyReply | undefined
    /** Offers to take back what this request wrote; `null` where that cannot be. */
    backTo(address: string, notice?: string, undo?: Undo | null): FastifyReply
    /** Leaves the notice for a page that a script goes to by itself. */
    leaveNotice(address: string, notice: string): void
  }
}

const mostBytesKept = 16 * 1024 * 1024

/**
 * `reply.page` renders a view within its layout; `reply.backTo` answers a saved form with one notice for the next page.
 */
export async function addPages(app: FastifyInstance, viewsFolder: string, assets: Assets): Promise<void> {
  const eta = new Eta({ views: viewsFolder, cache: true, autoTrim: [false, 'nl'] })
  // "production": a view is read and compiled once, wherever the service runs.
  await app.register(view, { engine: { eta }, root: viewsFolder, templates: viewsFolder, production: true })
  app.decorate('bareHtml', (name: string, page: object, title: string, scripted = false) => {
    const shell = { ...bareShell(assets, title), scripted }
    return app.view('/layouts/public', { words: wordsFor('en'), page, view: `/${name}`, shell })
  })
  app.decorateReply(
    'page',
    async function renderPage(this: FastifyReply, name: PageName, page: object, options: PageOptions) {
      const keeps = keptFor(this, options.status)
      const shell = await shellOf(this.request, this, assets, options)
      const told = languageOfPage(shell.locale, name)
      const layout = this.request.member && !options.bare ? 'group' : 'public'
      const words = wordsFor(shell.locale)
      const html = await this.viewAsync(`/layouts/${layout}`, {
        words,
        page,
        shell: { ...shell, told: told === shell.language ? null : told },
        view: `/${name}`,
      })
      void this.status(options.status ?? 200).type('text/html; charset=utf-8')
      if (options.keepAs) return sendEither(this, await pages.keep(options.keepAs, html))
      return (await keeps?.(html, shell.csrf)) ? this : this.send(html)
    },
  )
  const pages = new FinishedPages(mostBytesKept)
  app.decorateReply('kept', function kept(this: FastifyReply, name: string) {
    const page = pages.get(name)
    return page === undefined ? undefined : sendEither(this.type('text/html; charset=utf-8'), page)
  })
  app.decorateReply(
    'backTo',
    function backTo(this: FastifyReply, address: string, notice?: string, undo?: Undo | null) {
      const offered = undo === undefined ? undoOf(this.request, address) : undo
      if (notice) this.setCookie(noticeCookie, packed({ notice, undo: offered }), noticeOptions)
      return this.redirect(address, 303)
    },
  )
  app.decorateReply('leaveNotice', function leaveNotice(this: FastifyReply, address: string, notice: string) {
    const undo = undoOf(this.request, address)
    if (notice) this.setCookie(noticeCookie, packed({ notice, undo }), noticeOptions)
  })
}

/** Every save can be taken back from its notice, unless others may have seen it or it is locked. */
function undoOf({ saved, member }: FastifyRequest, back: string): Undo | null {
  if (!saved?.tables.every((name) => undoableTables.has(name))) return null
  const fields = { first: String(saved.first), last: String(saved.last), back: back.slice(0, 300) }
  return { address: `/g/${member.group.slug}/undo`, fields }
}

interface Notice {
  readonly notice: string
  readonly undo: Undo | null
}

const packed = (said: Notice) => Buffer.from(JSON.stringify(said)).toString('base64url')

/** Empty where the cookie is not one of ours. */
function unpacked(cookie: string): Notice {
  try {
    const said = JSON.parse(Buffer.from(cookie, 'base64url').toString('utf8')) as Notice
    const { address, fields } = said.undo ?? { address: '', fields: {} }
    const ours = /^\/g\/[\w-]+\//.test(address)
    return { notice: String(said.notice), undo: ours ? { address, fields } : null }
  } catch {
    return { notice: '', undo: null }
  }
}

const noticeOptions = { path: '/', httpOnly: true, sameSite: 'lax', maxAge: 60 } as const

const bareShell = (assets: Assets, title: string) => ({
  ...assets,
  title,
  bare: true,
  locale: 'en',
  language: languageFor('en'),
  told: null,
  direction: directionFor('en'),
  about: null,
  csrf: '',
  notice: '',
  undo: null,
  person: null,
  group: null,
  head: null,
  role: null,
  visiting: false,
  address: '',
})

async function shellOf(request: FastifyRequest, reply: FastifyReply, assets: Assets, options: PageOptions) {
  // A page that guests see is kept for others: nothing of the one who asks may stand on it.
  const notice = options.bare ? undefined : request.cookies[noticeCookie]
  if (notice) reply.clearCookie(noticeCookie, { path: '/' })
  const member = options.bare ? null : request.member
  const locale = options.locale ?? member?.group.locale ?? 'en'
  const said = unpacked(sent(notice))
  return {
    ...assets,
    title: options.title,
    bare: options.bare ?? false,
    scripted: options.scripted ?? false,
    locale,
    language: languageFor(locale),
    direction: directionFor(locale),
    about: options.about ?? null,
    csrf: options.bare ? '' : reply.formToken(),
    ...said,
    person: options.bare ? null : request.person,
    group: member?.group ?? null,
    head: member ? headOf(member.group.slug, request.url) : null,
    role: member?.role ?? null,
    visiting: member?.visiting ?? false,
    address: request.url,
  }
}
