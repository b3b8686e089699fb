/**
 * The two clocks, and the only place in the project that may ask the machine what time it is.
 *
 * <p>Durations use the monotonic side only; the wall side stamps records for people. Pure logic is
 * given {@code now} and imports nothing from here.
 */
@NullMarked
package io.evenwarm.clock;

import org.jspecify.annotations.NullMarked;
