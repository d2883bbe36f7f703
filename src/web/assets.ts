import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { FastifyInstance } from 'fastify'

export interface Assets {
  readonly stylesAddress: string
  readonly scriptAddress: string
}

/** Joins styles and scripts in name order and serves each at an address made from its contents, kept for a year. */
export function serveAssets(app: FastifyInstance, viewsFolder: string): Assets {
  const styles = serve(app, join(viewsFolder, 'styles'), 'css', 'text/css; charset=utf-8')
  const script = serve(app, join(viewsFolder, 'scripts'), 'js', 'text/javascript; charset=utf-8')
  return { stylesAddress: styles, scriptAddress: script }
}

function serve(app: FastifyInstance, folder: string, ending: string, type: string): string {
  const names = readdirSync(folder).filter((name) => name.endsWith(`.${ending}`))
  const joined = names.sort().map((name) => readFileSync(join(folder, name), 'utf8'))
  const body = joined.join('\n')
  const address = `/assets/${createHash('sha256').update(body).digest('hex').slice(0, 16)}.${ending}`
  app.get(address, { config: { access: 'public' } }, (_request, reply) =>
    reply.header('cache-control', 'public, max-age=31536000, immutable').type(type).send(body),
  )
  return address
}
