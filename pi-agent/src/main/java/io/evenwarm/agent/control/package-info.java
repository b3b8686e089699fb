/**
 * How much heat is wanted: PID and the time-proportioned relay.
 *
 * <p>Pure arithmetic: imports no clock, thread, I/O or logging type, and never decides whether heat
 * is allowed. Called by the control thread only.
 */
@NullMarked
package io.evenwarm.agent.control;

import org.jspecify.annotations.NullMarked;
