import view from '@fastify/view'
import { Eta } from 'eta'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { catalogue } from '../words/catalogue.ts'
import type { Assets } from './assets.ts'

export interface PageOptions {
  readonly status?: number
  readonly title: string
  /** Set on a page that guests see: it names no group and no person. */
  readonly bare?: boolean
}

declare module 'fastify' {
  interface FastifyReply {
    page(name: string, page: object, options: PageOptions): Promise<FastifyReply>
    backTo(address: string, notice?: string): FastifyReply
  }
}

const noticeCookie = 'evenground-notice'

/** `reply.page` renders a view within its layout; `reply.backTo` answers a saved form with one notice for the next page. */
export async function addPages(app: FastifyInstance, viewsFolder: string, assets: Assets): Promise<void> {
  const eta = new Eta({ views: viewsFolder, cache: true, autoTrim: [false, 'nl'] })
  await app.register(view, { engine: { eta }, root: viewsFolder, templates: viewsFolder })
  app.decorateReply(
    'page',
    async function renderPage(this: FastifyReply, name: string, page: object, options: PageOptions) {
      const shell = await shellOf(this.request, this, assets, options)
      const layout = this.request.member && !options.bare ? 'group' : 'public'
      const html = eta.render(`/layouts/${layout}`, { words: catalogue, page, shell, view: `/${name}` })
      return this.status(options.status ?? 200)
        .type('text/html; charset=utf-8')
        .send(html)
    },
  )
  app.decorateReply('backTo', function backTo(this: FastifyReply, address: string, notice?: string) {
    if (notice) this.setCookie(noticeCookie, Buffer.from(notice).toString('base64url'), noticeOptions)
    return this.redirect(address, 303)
  })
}

const noticeOptions = { path: '/', httpOnly: true, sameSite: 'lax', maxAge: 60 } as const

async function shellOf(request: FastifyRequest, reply: FastifyReply, assets: Assets, options: PageOptions) {
  const notice = request.cookies[noticeCookie]
  if (notice) reply.clearCookie(noticeCookie, { path: '/' })
  const member = options.bare ? null : request.member
  return {
    ...assets,
    title: options.title,
    bare: options.bare ?? false,
    locale: member?.group.locale ?? 'en',
    csrf: options.bare ? '' : reply.generateCsrf(),
    notice: notice ? Buffer.from(notice, 'base64url').toString('utf8') : '',
    person: options.bare ? null : request.person,
    group: member?.group ?? null,
    role: member?.role ?? null,
    address: request.url,
  }
}
