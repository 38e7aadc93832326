/** What a mark is on the object for. */
export const MARK_ROLES = ['maker', 'retailer', 'owner', 'depository', 'carrier', 'sale', 'other'] as const;
export type MarkRole = (typeof MARK_ROLES)[number];

/** A role that a mark may have, and how likely that is: all weights of a mark add up to 1. */
export type RoleWeight = { readonly role: MarkRole; readonly weight: number };

/** The roles of one mark, the likeliest first. */
export type RoleWeights = readonly [RoleWeight, ...RoleWeight[]];

/** Why words are no role, and how to write one. */
export type RoleFault = { readonly fault: string; readonly hint: string };

const HOW = 'Write one role, or several with weights that add up to 1: "owner 0.7, depository 0.3".';
/** Weights rounded to two places, as thirds and sixths are, add up to 1 but for this. */
const ROUNDED = 0.025;

/**
 * The role of a mark, `owner`, or several with their weights: `owner 0.7, depository 0.3`, also `owner:70%`. Weights that
 * add up to 1 but for rounding are scaled to do so.
 */
export function readRoles(text: string): RoleWeights | RoleFault {
  const pieces = text
    .split(/[,;]/)
    .map((piece) => piece.trim())
    .filter((piece) => piece !== '');
  const roles: RoleWeight[] = [];
  for (const piece of pieces) {
    const [, name = '', figure, percent] = /^(\S*?)(?:\s*[:=\s]\s*(\d*\.?\d+)\s*(%?))?$/.exec(piece) ?? [];
    const role = MARK_ROLES.find((each) => each === name);
    if (role === undefined)
      return { fault: `role cannot be "${name || piece}"`, hint: `One of: ${MARK_ROLES.join(', ')}. ${HOW}` };
    if (figure === undefined && pieces.length > 1) return { fault: `the role ${role} has no weight`, hint: HOW };
    if (roles.some((other) => other.role === role)) return { fault: `the role ${role} is named twice`, hint: HOW };
    const weight = figure === undefined ? 1 : Number(figure) / (percent === '%' ? 100 : 1);
    if (!(weight > 0)) return { fault: `the role ${role} has no weight above 0`, hint: `Leave it out. ${HOW}` };
    roles.push({ role, weight });
  }
  const [first, ...others] = roles.sort((a, b) => b.weight - a.weight || order(a.role) - order(b.role));
  if (first === undefined) return { fault: 'no role is named', hint: `One of: ${MARK_ROLES.join(', ')}. ${HOW}` };
  const all = roles.reduce((sum, { weight }) => sum + weight, 0);
  if (Math.abs(all - 1) > ROUNDED)
    return { fault: `the weights of the roles add up to ${Number(all.toFixed(4))}, not 1`, hint: HOW };
  const scaled = ({ role, weight }: RoleWeight): RoleWeight => ({ role, weight: weight / all });
  return [scaled(first), ...others.map(scaled)];
}

const order = (role: MarkRole): number => MARK_ROLES.indexOf(role);

/** The one way in which roles are kept: the likeliest first, weights as they were given. */
export const writtenRoles = (roles: RoleWeights): string =>
  roles.length === 1
    ? roles[0].role
    : roles.map(({ role, weight }) => `${role} ${Number(weight.toFixed(4))}`).join(', ');

/** Roles as the ledger keeps them. @throws Error for words that no ledger holds. */
export function keptRoles(text: string): RoleWeights {
  const roles = readRoles(text);
  if ('fault' in roles) throw new Error(`a mark of the ledger has the role "${text}": ${roles.fault}`);
  return roles;
}
