import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { FastifyInstance } from 'fastify'
import { catalogue } from '../words/catalogue.ts'
import { translations, wordsFor } from '../words/locales.ts'
import type { Assets } from './assets.ts'

const shellAddress = '/week-kept'

/**
 * What a phone needs to open the page of a week without a signal: a page of nobody, the worker that keeps it with its
 * files and nothing else, and the manifest by which the service can be put among a phone's programs.
 */
export async function serveWithoutSignal(app: FastifyInstance, assets: Assets, viewsFolder: string): Promise<void> {
  const words = catalogue.shell
  // It is of nobody, so that it cannot know whose language it is to speak: it carries all of them.
  const said = Object.fromEntries(['en', ...Object.keys(translations)].map((one) => [one, wordsFor(one).week.kept]))
  const config = { access: 'public', forNobody: true } as const
  const shell = await app.bareHtml('diary/week-kept', { said: JSON.stringify(said) }, catalogue.week.kept.title, true)
  const files = [shellAddress, assets.stylesAddress, assets.scriptAddress, ...assets.faceAddresses, assets.icons.mark]
  const worker = readFileSync(join(viewsFolder, 'worker', 'week-worker.js'), 'utf8')
  const version = createHash('sha256').update(shell).update(worker).digest('hex').slice(0, 16)
  const script = `const version = '${version}'\nconst files = ${JSON.stringify(files)}\n${worker}`

  app.get(shellAddress, { config }, (_request, reply) =>
    reply.header('cache-control', 'no-cache').type('text/html; charset=utf-8').send(shell),
  )
  app.get('/week-worker.js', { config }, (_request, reply) =>
    reply.header('cache-control', 'no-cache').type('text/javascript; charset=utf-8').send(script),
  )
  app.get('/manifest.webmanifest', { config }, (_request, reply) =>
    reply.header('cache-control', 'no-cache').type('application/manifest+json').send(manifestOf(words.name, assets)),
  )
}

const manifestOf = (name: string, { icons }: Assets) =>
  JSON.stringify({
    name,
    short_name: name,
    start_url: '/week',
    scope: '/',
    display: 'standalone',
    background_color: '#ffffff',
    theme_color: '#6a2a56',
    icons: [
      { src: icons.small, sizes: '192x192', type: 'image/png' },
      { src: icons.large, sizes: '512x512', type: 'image/png' },
      { src: icons.mark, sizes: 'any', type: 'image/svg+xml' },
    ],
  })
