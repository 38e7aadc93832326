import { MARK_ROLES } from '../dating/mark-roles.ts';
import { HeldbyError } from '../errors.ts';
import { kindNamed } from '../ledger/kinds.ts';
import type { ObjectRow } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { resolveRef } from '../ledger/refs.ts';
import type { Reckoned } from './grounds-tenures.ts';
import { type Ground, type GroundsReader, ground, note, percent } from './grounds-tree.ts';
import { madeOf } from './made.ts';
import { provenanceOf, type UncertainRole, USUAL_CHAINS } from './provenance.ts';

export const ROLE_FIGURES = {
  role: 'holder, succession and making were that the role of a mark for certain; the role by its weight, unless said',
  noHolder: 'the share of all successions in which a mark names no holder',
  phraseIfRole: 'when it was made, by features and marks, were that the role of a mark for certain',
} as const;
export type RoleFigure = keyof typeof ROLE_FIGURES;

export const isRoleFigure = (name: string): name is RoleFigure => Object.hasOwn(ROLE_FIGURES, name);

/** What a share of a mark rests on, and what the making by features does. */
type RoleGrounds = {
  readonly markGrounds: (mark: string, person: string | undefined) => Ground;
  readonly features: () => readonly Ground[];
};

/** What hangs on the role of a mark, as `provenance` and `made` tell it of an object. */
type Asked = { readonly mark: string | undefined; readonly role: string | undefined };

/** `[MARK] [ROLE]`, in either order. @throws HeldbyError REFERENCE */
function askedOf(db: Db, words: readonly string[]): Asked {
  const isRole = (word: string): boolean => (MARK_ROLES as readonly string[]).includes(word.toLowerCase());
  const mark = words.filter((word) => !isRole(word)).join(' ');
  return {
    mark: mark === '' ? undefined : `m${resolveRef(db, kindNamed('mark'), mark)}`,
    role: words.find(isRole)?.toLowerCase(),
  };
}

/**
 * @param words which mark, where more than one has an uncertain role, and which of its roles; the likeliest unless said.
 * @throws HeldbyError REFERENCE, USAGE
 */
export function roleOfObject(
  db: Db,
  object: ObjectRow,
  figure: RoleFigure,
  words: readonly string[],
  { markGrounds, features }: RoleGrounds,
  reader: GroundsReader,
): Reckoned {
  const asked = askedOf(db, words);
  if (figure === 'phraseIfRole') return madeIfRole(db, object, asked, features, reader);
  const { uncertainRoles } = provenanceOf(db, `id:o${object.id}`, USUAL_CHAINS);
  if (asked.mark === undefined && uncertainRoles.length === 0) return allCertain(object, figure);
  const uncertain = theMark(object, uncertainRoles, ({ mark }) => mark, asked);
  const { mark, noHolder, roles } = uncertain;
  if (figure === 'noHolder')
    return {
      value: noHolder,
      says: `${mark} names no holder in ${percent(noHolder)} of all successions of ${object.ref} by weight`,
      grounds: [
        ...roles.map((each) => roleGround(each, mark)),
        note(
          'its roles have these weights before the other marks are heard; a role that names nobody gains where the holders before and after it follow each other as they stand',
        ),
        reader.record(mark),
      ],
    };
  const role = theRole(mark, roles, asked);
  return {
    value: role,
    says: `if the role of ${mark} is for certain ${roleInWords(role)}`,
    grounds: [
      ...role.holders.map(({ person, share }) =>
        ground(
          'figure',
          `${person?.name ?? 'somebody unrecorded'} held it then in ${percent(share)} of all successions`,
          person?.id ?? null,
          person === null ? [] : [reader.record(person.id)],
          share,
        ),
      ),
      ...(role.holder === null ? [] : [markGrounds(mark, role.holder.id)]),
      reader.record(mark),
      ...features(),
      ...['chain.same', 'chain.kin', 'chain.surname'].map((name) => reader.assumption(name)),
    ],
  };
}

type RoleTold = UncertainRole['roles'][number];

function roleInWords({ role, weight, made, holder, holders, chainShare }: RoleTold): string {
  const share = holders.find(({ person }) => person !== null && person.id === holder?.id)?.share;
  const who =
    holder === null || share === undefined
      ? 'it names nobody recorded'
      : `${holder.name} held it in ${percent(share)} of all successions`;
  const chain = chainShare === null ? '' : `; the likeliest succession has ${percent(chainShare)}`;
  return `${role} (${percent(weight)} as recorded), ${who}${chain}; made ${made}`;
}

const roleGround = (role: RoleTold, mark: string): Ground =>
  ground('figure', `if it is for certain ${roleInWords(role)}`, mark, [], role.weight);

/** `made`: the same of the making alone, which asks for no succession. */
function madeIfRole(
  db: Db,
  object: ObjectRow,
  asked: Asked,
  features: RoleGrounds['features'],
  reader: GroundsReader,
): Reckoned {
  const { withMarks } = madeOf(db, `id:o${object.id}`);
  const uncertain = (withMarks?.marks ?? []).filter(({ roles }) => roles.length > 0);
  if (asked.mark === undefined && uncertain.length === 0) return allCertain(object, 'phraseIfRole');
  const { id, roles } = theMark(object, uncertain, (each) => each.id, asked);
  const { role, weight, phrase } = theRole(id, roles, asked);
  return {
    value: phrase,
    says: `if the role of ${id} is for certain ${role} (${percent(weight)} as recorded), ${object.ref} was made ${phrase}, by its features and marks together`,
    grounds: [
      ...(withMarks === null ? [] : [note(`with the roles as they are recorded: made ${withMarks.phrase}`)]),
      reader.record(id),
      ...features(),
    ],
  };
}

const allCertain = ({ ref }: ObjectRow, figure: RoleFigure): Reckoned => ({
  value: figure === 'noHolder' ? 0 : null,
  says: `no mark of ${ref} has an uncertain role, so nothing hangs on one`,
  grounds: [],
});

function theMark<Told>(object: ObjectRow, told: readonly Told[], idOf: (each: Told) => string, { mark }: Asked): Told {
  const found = told.filter((each) => mark === undefined || idOf(each) === mark);
  const [one, another] = found;
  if (one !== undefined && another === undefined) return one;
  const ids = told.map(idOf).join(', ');
  if (one !== undefined) throw new HeldbyError('USAGE', 'Of which mark?', `One of: ${ids}.`);
  throw new HeldbyError(
    'REFERENCE',
    `${mark} is no mark of ${object.ref} with an uncertain role.`,
    ids === '' ? 'Record several: heldby amend MARK role "owner 0.7, depository 0.3" --why TEXT' : `One of: ${ids}.`,
  );
}

function theRole<Told extends { readonly role: string }>(mark: string, roles: readonly Told[], { role }: Asked): Told {
  const found = roles.find((each) => role === undefined || each.role === role);
  if (found !== undefined) return found;
  throw new HeldbyError(
    'REFERENCE',
    `${mark} has no role ${role}.`,
    `One of: ${roles.map((each) => each.role).join(', ')}.`,
  );
}
