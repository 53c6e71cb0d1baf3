import { chainFaults } from './chains.ts';
import { driverFaults } from './drivers.ts';
import { evidenceFaults } from './evidence.ts';
import { matingFaults } from './matings.ts';
import { nameFaults } from './names.ts';
import type { FaultKind } from './places.ts';
import { plugFaults } from './plug-matings.ts';
import { railConflicts } from './rail-conflicts.ts';
import { railLosses } from './rail-losses.ts';
import { railRatings } from './rail-ratings.ts';
import { resistorFaults } from './resistors.ts';
import { ribbonFaults } from './ribbons.ts';
import { supplyFaults } from './second-supplies.ts';
import { slipFaults } from './slips.ts';
import { terminatorFaults } from './terminators.ts';

/** Every kind of fault, in the order of the manual's sections. */
export const faults: readonly FaultKind[] = [
  ...railConflicts,
  ...railLosses,
  ...railRatings,
  ...terminatorFaults,
  ...resistorFaults,
  ...driverFaults,
  ...chainFaults,
  ...nameFaults,
  ...matingFaults,
  ...plugFaults,
  ...supplyFaults,
  ...ribbonFaults,
  ...evidenceFaults,
  ...slipFaults,
];
