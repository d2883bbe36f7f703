import { createHash, generateKeyPairSync, type KeyObject, randomBytes, sign } from 'node:crypto'

/** What the service asks of a browser, as far as a device reads it. */
export interface AskedOfDevice {
  readonly challenge: string
  readonly rp?: { readonly id: string; readonly name: string }
  readonly rpId?: string
  readonly user?: { readonly id: string; readonly name: string }
  readonly excludeCredentials?: readonly { readonly id: string }[]
  readonly allowCredentials?: readonly { readonly id: string }[]
}

/** Where a browser stands while it asks its device; what is left out is as the service says. */
interface Standing {
  readonly origin: string
  readonly rpId?: string
  readonly counter?: number
  /** Whether finger, face or number was asked for. */
  readonly verified?: boolean
  readonly userHandle?: string | null
}

/**
 * A device that signs (ES256 with keys of its own), with the browser around it: what W3C Web Authentication Level 2 has
 * them send, made by node:crypto alone.
 */
export class Authenticator {
  private readonly keys: { readonly publicKey: KeyObject; readonly privateKey: KeyObject }
  readonly id = randomBytes(32).toString('base64url')
  private userHandle = ''
  counter = 0

  constructor() {
    this.keys = generateKeyPairSync('ec', { namedCurve: 'P-256' })
  }

  /** As the form carries it. */
  add(asked: AskedOfDevice, standing: Standing): string {
    this.userHandle = asked.user?.id ?? ''
    const { verified = true, counter = 0, rpId = asked.rp?.id ?? '' } = standing
    const id = Buffer.from(this.id, 'base64url')
    const length = Buffer.from([id.length >> 8, id.length & 255])
    const flags = 0x01 | (verified ? 0x04 : 0) | 0x40
    const authData = Buffer.concat([dataOf(rpId, flags, counter), Buffer.alloc(16), length, id, this.coseKey()])
    const attestationObject = Buffer.concat([
      Buffer.from([0xa3]),
      ...[text('fmt'), text('none'), text('attStmt'), Buffer.from([0xa0]), text('authData'), bytes(authData)],
    ])
    return this.answer({
      clientDataJSON: clientData('webauthn.create', asked.challenge, standing.origin).toString('base64url'),
      attestationObject: attestationObject.toString('base64url'),
      transports: ['internal'],
    })
  }

  show(asked: AskedOfDevice, standing: Standing): string {
    const { verified = true, rpId = asked.rpId ?? '', userHandle = this.userHandle } = standing
    this.counter = standing.counter ?? this.counter + 1
    const authData = dataOf(rpId, 0x01 | (verified ? 0x04 : 0), this.counter)
    const said = clientData('webauthn.get', asked.challenge, standing.origin)
    const signed = Buffer.concat([authData, createHash('sha256').update(said).digest()])
    return this.answer({
      clientDataJSON: said.toString('base64url'),
      authenticatorData: authData.toString('base64url'),
      signature: sign('sha256', signed, this.keys.privateKey).toString('base64url'),
      ...(userHandle === null ? {} : { userHandle }),
    })
  }

  private answer(response: object): string {
    return JSON.stringify({ id: this.id, rawId: this.id, type: 'public-key', clientExtensionResults: {}, response })
  }

  /** Of kind 2 (elliptic, two coordinates), for ES256 (-7), on curve 1 (P-256). */
  private coseKey(): Buffer {
    const { x = '', y = '' } = this.keys.publicKey.export({ format: 'jwk' })
    const head = Buffer.from([0xa5, 0x01, 0x02, 0x03, 0x26, 0x20, 0x01])
    const [left, right] = [Buffer.from(x, 'base64url'), Buffer.from(y, 'base64url')]
    return Buffer.concat([head, Buffer.from([0x21]), bytes(left), Buffer.from([0x22]), bytes(right)])
  }
}

const clientData = (type: string, challenge: string, origin: string) =>
  Buffer.from(JSON.stringify({ type, challenge, origin, crossOrigin: false }))

function dataOf(rpId: string, flags: number, counter: number): Buffer {
  const tail = Buffer.alloc(5)
  tail.writeUInt8(flags, 0)
  tail.writeUInt32BE(counter, 1)
  return Buffer.concat([createHash('sha256').update(rpId).digest(), tail])
}

/** Texts and bytes as CBOR (RFC 8949) writes them. */
const text = (said: string) => Buffer.concat([Buffer.from([0x60 | said.length]), Buffer.from(said)])
function bytes(of: Buffer): Buffer {
  const head = of.length < 256 ? [0x58, of.length] : [0x59, of.length >> 8, of.length & 255]
  return Buffer.concat([Buffer.from(head), of])
}
