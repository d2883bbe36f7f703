import { createHash, createPrivateKey, createPublicKey, generateKeyPairSync, sign, verify } from 'node:crypto'
import { and, eq, sql } from 'drizzle-orm'
import type { Database, Tx } from '../db/database.ts'
import { asDoor } from '../db/transaction.ts'
import type { Seal } from './seal.ts'
import { confirmedKeys, installationKeys, packageOrigins } from './signing.table.ts'

export interface SigningKey {
  readonly privateKey: string
  readonly publicKey: string
}

/** Before the 32 bytes of a public key stands what says that it is one of Ed25519 (RFC 8410). */
const spkiHead = Buffer.from('302a300506032b6570032100', 'hex')
const bytesOfKey = 32

function newPair(): SigningKey {
  const { privateKey, publicKey } = generateKeyPairSync('ed25519')
  return {
    privateKey: privateKey.export({ type: 'pkcs8', format: 'der' }).toString('base64url'),
    publicKey: publicKey.export({ type: 'spki', format: 'der' }).subarray(spkiHead.length).toString('base64url'),
  }
}

/** The key of this installation, made where there is none yet: of two who ask first one makes it. */
export function installationKey(database: Database): Promise<SigningKey> {
  const { privateKey, publicKey } = installationKeys
  return asDoor(database, async (tx) => {
    const stands = () => tx.select({ privateKey, publicKey }).from(installationKeys)
    const [found] = await stands()
    if (found) return found
    await tx.insert(installationKeys).values(newPair()).onConflictDoNothing()
    const [made] = await stands()
    if (!made) throw new Error('The key of this installation was not kept.')
    return made
  })
}

/** By which people tell keys apart when they read them out: 128 bits of its SHA-256, in fours. */
export const fingerprintOf = (publicKey: string): string =>
  (
    createHash('sha256').update(Buffer.from(publicKey, 'base64url')).digest('hex').slice(0, 32).match(/.{4}/g) ?? []
  ).join(' ')

export function signatureBy({ privateKey }: SigningKey, text: string): string {
  const key = createPrivateKey({ key: Buffer.from(privateKey, 'base64url'), format: 'der', type: 'pkcs8' })
  return sign(null, Buffer.from(text), key).toString('base64url')
}

interface Signed {
  readonly publicKey: string
  readonly signature: string
}

/** Whether a key has signed these bytes. */
export function isSignedBy({ publicKey, signature }: Signed, bytes: Buffer): boolean {
  const raw = Buffer.from(publicKey, 'base64url')
  if (raw.length !== bytesOfKey) return false
  try {
    const key = createPublicKey({ key: Buffer.concat([spkiHead, raw]), format: 'der', type: 'spki' })
    return verify(null, bytes, key, Buffer.from(signature, 'base64url'))
  } catch {
    return false
  }
}

export async function confirmKey(database: Database, personId: string, fingerprint: string, name: string) {
  const confirmed = { name, confirmedAt: sql`now()` }
  await asDoor(database, (tx) =>
    tx
      .insert(confirmedKeys)
      .values({ personId, fingerprint, ...confirmed })
      .onConflictDoUpdate({ target: [confirmedKeys.personId, confirmedKeys.fingerprint], set: confirmed }),
  )
}

/** The name that a person has confirmed a key under; null where they have not. */
export async function nameOfKey(database: Database, personId: string | null, fingerprint: string | null) {
  if (personId === null || fingerprint === null) return null
  const [found] = await asDoor(database, (tx) =>
    tx
      .select({ name: confirmedKeys.name })
      .from(confirmedKeys)
      .where(and(eq(confirmedKeys.personId, personId), eq(confirmedKeys.fingerprint, fingerprint))),
  )
  return found?.name ?? null
}

export async function keepOrigin(tx: Tx, groupId: string, { state, fingerprint }: Seal): Promise<void> {
  await tx.insert(packageOrigins).values({ groupId, state, fingerprint })
}

/** Null where the group was begun here. */
export async function originOf(tx: Tx, groupId: string): Promise<Seal | null> {
  const [found] = await tx.select().from(packageOrigins).where(eq(packageOrigins.groupId, groupId))
  return found ?? null
}
