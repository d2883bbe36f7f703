import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { FastifyInstance } from 'fastify'

export interface Assets {
  readonly stylesAddress: string
  readonly scriptAddress: string
  /** The faces that every page needs at once. */
  readonly faceAddresses: readonly string[]
}

/** Joins styles and scripts in name order and serves each at an address made from its contents, kept for a year. */
export function serveAssets(app: FastifyInstance, viewsFolder: string): Assets {
  const faces = serveFaces(app, join(viewsFolder, 'faces'))
  const styles = joined(join(viewsFolder, 'styles'), 'css').replace(/face:([\w-]+)/g, (_, name: string) => {
    const address = faces.get(name)
    if (!address) throw new Error(`No face ${name}`)
    return address
  })
  return {
    stylesAddress: serve(app, styles, { ending: 'css', type: 'text/css; charset=utf-8' }),
    scriptAddress: serve(app, joined(join(viewsFolder, 'scripts'), 'js'), {
      ending: 'js',
      type: 'text/javascript; charset=utf-8',
    }),
    faceAddresses: [...faces].filter(([name]) => !name.endsWith('-ext')).map(([, address]) => address),
  }
}

function serveFaces(app: FastifyInstance, folder: string): Map<string, string> {
  const names = readdirSync(folder).filter((name) => name.endsWith('.woff2'))
  return new Map(
    names.sort().map((name) => {
      const body = readFileSync(join(folder, name))
      return [name.replace('.woff2', ''), serve(app, body, { ending: 'woff2', type: 'font/woff2' })]
    }),
  )
}

function joined(folder: string, ending: string): string {
  const names = readdirSync(folder).filter((name) => name.endsWith(`.${ending}`))
  return names
    .sort()
    .map((name) => readFileSync(join(folder, name), 'utf8'))
    .join('\n')
}

function serve(
  app: FastifyInstance,
  body: string | Buffer,
  { ending, type }: { ending: string; type: string },
): string {
  const address = `/assets/${createHash('sha256').update(body).digest('hex').slice(0, 16)}.${ending}`
  app.get(address, { config: { access: 'public', forNobody: true } }, (_request, reply) =>
    reply.header('cache-control', 'public, max-age=31536000, immutable').type(type).send(body),
  )
  return address
}
