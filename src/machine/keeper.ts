import { Problems } from './scope.ts';
import type { MachineProblem } from './types.ts';

/** A part of a machine, with all that it was made of and what was wrong with it. */
interface Made {
  readonly of: readonly unknown[];
  readonly part: unknown;
  readonly problems: readonly MachineProblem[];
}

/**
 * Makes the parts of a machine that depend on few things, or takes them from the machine's last version where those
 * things are the same objects. What is taken is the same object again, so that what depends on it need not be made anew
 * either. Holds the parts of one version; those of the last one are let go once the machine is built.
 */
export class Keeper {
  private readonly made = new Map<unknown, Made>();
  private before: ReadonlyMap<unknown, Made> | undefined;

  constructor(before: Keeper | undefined) {
    this.before = before?.made;
  }

  /** The part with this key. `make` must be a pure function of the key and of what it is made `of`. */
  part<T>(key: unknown, of: readonly unknown[], problems: Problems, make: (problems: Problems) => T): T {
    const before = this.before?.get(key);
    const made = before !== undefined && areSame(before.of, of) ? before : madeAnew(of, make);
    this.made.set(key, made);
    for (const problem of made.problems) problems.list.push(problem);
    return made.part as T;
  }

  /** A table of parts; the last version's where it holds the same parts under the same names. */
  table<T>(key: string, table: ReadonlyMap<string, T>): ReadonlyMap<string, T> {
    return this.part(key, [...table.keys(), ...table.values()], new Problems(), () => table);
  }

  /** A set of names; the last version's where it holds the same. */
  names(key: string, names: ReadonlySet<string>): ReadonlySet<string> {
    return this.part(key, [...names], new Problems(), () => names);
  }

  done(): void {
    this.before = undefined;
  }
}

function madeAnew(of: readonly unknown[], make: (problems: Problems) => unknown): Made {
  const problems = new Problems();
  const part = make(problems);
  return { of, part, problems: problems.list };
}

const areSame = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((one, i) => one === b[i]);
