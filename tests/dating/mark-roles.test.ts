import { describe, expect, test } from 'vitest';
import { keptRoles, readRoles, writtenRoles } from '../../src/dating/mark-roles.ts';

describe('the roles of a mark', () => {
  test.each<[given: string, kept: string]>([
    ['owner', 'owner'],
    ['owner 1', 'owner'],
    ['owner 0.7, depository 0.3', 'owner 0.7, depository 0.3'],
    ['depository:.3;owner:.7', 'owner 0.7, depository 0.3'],
    ['owner = 60 %, sale=40%', 'owner 0.6, sale 0.4'],
    ['other 0.5, maker 0.5', 'maker 0.5, other 0.5'],
    ['owner 0.33, sale 0.33, carrier 0.33', 'owner 0.3333, carrier 0.3333, sale 0.3333'],
  ])('%s', (given, kept) => {
    const roles = readRoles(given);
    if ('fault' in roles) throw new Error(roles.fault);
    expect(writtenRoles(roles)).toBe(kept);
    expect(roles.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
    expect(writtenRoles(keptRoles(kept))).toBe(kept);
  });

  test.each<[given: string, fault: string]>([
    ['', 'no role is named'],
    ['holder', 'role cannot be "holder"'],
    ['owner, sale', 'the role owner has no weight'],
    ['owner 0.5, owner 0.5', 'the role owner is named twice'],
    ['owner 0.7, sale 0.2', 'the weights of the roles add up to 0.9, not 1'],
    ['owner 0.7', 'the weights of the roles add up to 0.7, not 1'],
    ['owner 1, sale 0', 'the role sale has no weight above 0'],
    ['owner 0.7 depository 0.3', 'role cannot be "owner 0.7 depository 0.3"'],
  ])('refused: %s', (given, fault) => {
    expect(readRoles(given)).toMatchObject({ fault });
  });

  test('a ledger holds no other', () => expect(() => keptRoles('holder')).toThrow('holder'));
});
