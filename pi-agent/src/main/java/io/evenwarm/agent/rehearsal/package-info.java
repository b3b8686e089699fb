/**
 * Scenarios run on the virtual clock through the agent's own control and guard, and their verdicts;
 * and invented pasts made of them.
 */
@NullMarked
package io.evenwarm.agent.rehearsal;

import org.jspecify.annotations.NullMarked;
