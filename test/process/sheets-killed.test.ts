import { expect, inject, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { onServer } from '../support/server.ts'
import { sheetsUnderKills } from './sheets-under-kills.ts'

const server = process.env.TEST_DATABASE_URL

it('every acknowledged entry of a sheet is there once, however often the service is killed', async () => {
  const name = `evenground_test_${newId().replaceAll('-', '')}`
  const url = new URL(server ?? 'postgres://none')
  url.pathname = `/${name}`
  if (server) await onServer(server, `create database ${name}`)
  try {
    const databaseUrl = server ? url.href : undefined
    const found = await sheetsUnderKills({ entries: 300, kills: 2, databaseUrl, prepared: inject('folder') })
    expect(found.wrong).toEqual([])
    expect(found.acknowledged + found.abandoned).toBe(12)
    expect(found.acknowledged).toBeGreaterThanOrEqual(10)
  } finally {
    if (server) await onServer(server, `drop database if exists ${name} with (force)`)
  }
}, 300_000)
