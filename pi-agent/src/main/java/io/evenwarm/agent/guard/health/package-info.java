/**
 * What a cabinet's readings tell of its heater, fan, door and probes: estimators that learn how
 * this cabinet behaves while it is sound, and say when it no longer does.
 *
 * <p>They know what was commanded and what checked readings said, never what the cabinet is made
 * of. They decide nothing: {@code guard} makes findings of them and says what follows.
 *
 * <p>Pure: imports no clock, thread, I/O or logging type. Called by the control thread only.
 */
@NullMarked
package io.evenwarm.agent.guard.health;

import org.jspecify.annotations.NullMarked;
