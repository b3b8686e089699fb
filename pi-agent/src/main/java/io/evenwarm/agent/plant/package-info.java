/**
 * The simulated cabinet: its physics, probes and outputs that behave like the real ones, faults,
 * and simulated clocks. Shipped code: demo, rehearsal and tests run on it.
 *
 * <p>Only {@code rehearsal}, {@code app} and tests may import this. One seed gives one run, bit for
 * bit.
 */
@NullMarked
package io.evenwarm.agent.plant;

import org.jspecify.annotations.NullMarked;
