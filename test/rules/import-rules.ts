/** Reads the imports of source files and says which of them the house does not allow. */
export interface SourceFile {
  readonly path: string
  readonly text: string
}

type Kind = 'pure' | 'page' | 'form' | 'table' | 'queries' | 'routes' | 'web' | 'db' | 'top'

/** Lowest first: a chapter may read those before it and never those after. */
const chapters = [
  ['accounts'],
  ['gardens'],
  ['seasons'],
  ['inputs'],
  ['diary'],
  ['soil', 'notes'],
  ['comparison'],
  ['decisions'],
  ['reports', 'exchange'],
  ['home', 'timeline', 'planning', 'demo', 'setting-right'],
]

/** The rooms of the comparison, lowest first; what lies in no room stands on top of them. */
const rooms = ['record', 'totals', 'matched', 'findings', 'rows', 'pictures']

const grounded = ['lookups', 'statistics', 'quantities', 'drawing', 'words']
const numericLibraries = ['d3-scale', 'd3-shape', 'd3-array']

const mayReadKinds: Record<Kind, readonly Kind[]> = {
  pure: ['pure'],
  page: ['pure', 'page'],
  form: ['pure', 'form', 'web'],
  table: ['pure', 'table'],
  queries: ['pure', 'table', 'queries', 'db'],
  routes: ['pure', 'page', 'form', 'table', 'queries', 'routes', 'web', 'db'],
  web: ['pure', 'web', 'db', 'queries'],
  db: ['table', 'db', 'pure'],
  top: ['pure', 'routes', 'web', 'db', 'top', 'queries'],
}

const mayUsePackages: Record<Kind, (name: string) => boolean> = {
  pure: (name) => numericLibraries.includes(name),
  page: (name) => numericLibraries.includes(name),
  form: (name) => name === 'zod',
  table: (name) => name.startsWith('drizzle-orm'),
  queries: (name) => name.startsWith('drizzle-orm') || name === 'node:crypto' || name === '@node-rs/argon2',
  routes: (name) => ['fastify', 'zod', 'node:crypto', 'node:path'].includes(name),
  web: (name) =>
    /^(fastify|@fastify\/.*|eta|zod|qs|sharp|uqr|@simplewebauthn\/server|yazl|yauzl|csv-parse(\/sync)?|prom-client|nodemailer|node:.*)$/.test(
      name,
    ),
  db: (name) => /^(drizzle-orm.*|pg|@electric-sql\/.*|node:.*)$/.test(name),
  top: (name) => /^(fastify|@fastify\/.*|pg|zod|qs|node:.*)$/.test(name),
}

export function breachesOf(files: readonly SourceFile[]): string[] {
  return files.flatMap((file) => importsOf(file.text).flatMap((target) => breachOf(file.path, target) ?? []))
}

export function importsOf(text: string): string[] {
  return [
    ...text.matchAll(/^\s*(?:import|export)\b[^'"]*?from\s*['"]([^'"]+)['"]|^\s*import\s*['"]([^'"]+)['"]/gm),
  ].map((found) => found[1] ?? found[2] ?? '')
}

function breachOf(from: string, target: string): string | undefined {
  const kind = kindOf(from)
  if (!target.startsWith('.')) {
    return mayUsePackages[kind](target) ? undefined : `${from} (${kind}) uses the package ${target}`
  }
  const to = resolve(from, target)
  if (!mayReadKinds[kind].includes(kindOf(to))) return `${from} (${kind}) reads ${to} (${kindOf(to)})`
  if (wrongRoom(from, to)) return `${from} reads ${to}, against the order of the rooms`
  return wrongWay(folderOf(from), folderOf(to)) ? `${from} reads ${to}, against the order of the chapters` : undefined
}

function wrongWay(from: string, to: string): boolean {
  if (from === to) return false
  if (to === 'lookups') return false
  if (grounded.includes(from)) return !(from === 'words' && grounded.includes(to))
  const [here, there] = [rank(from), rank(to)]
  return here >= 0 && there >= 0 && (there > here || there === here)
}

function wrongRoom(from: string, to: string): boolean {
  if (folderOf(from) !== 'comparison' || folderOf(to) !== 'comparison') return false
  return roomRank(to) > roomRank(from)
}

function roomRank(path: string): number {
  const [, , room, ...file] = path.split('/')
  return file.length === 0 ? rooms.length : rooms.indexOf(room ?? '')
}

const rank = (folder: string) => chapters.findIndex((level) => level.includes(folder))

function folderOf(path: string): string {
  return path.split('/').length > 2 ? (path.split('/')[1] ?? '') : ''
}

function kindOf(path: string): Kind {
  const suffix = /\.(page|form|table|queries|routes)\.ts$/.exec(path)?.[1]
  if (suffix) return suffix as Kind
  const folder = folderOf(path)
  if (folder === '') return 'top'
  return folder === 'web' || folder === 'db' ? folder : 'pure'
}

function resolve(from: string, target: string): string {
  const parts = from.split('/').slice(0, -1)
  for (const step of target.split('/')) {
    if (step === '..') parts.pop()
    else if (step !== '.') parts.push(step)
  }
  return parts.join('/')
}
