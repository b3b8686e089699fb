/**
 * What is: each cabinet's newest snapshot, and whether it is still alive. Plain Java, no JavaFX.
 *
 * <p>{@link io.evenwarm.monitor.live.LiveModel} is fed by {@code intake} and read by windows and
 * commands through {@link io.evenwarm.monitor.live.LiveView}. Any thread may call it.
 */
@NullMarked
package io.evenwarm.monitor.live;

import org.jspecify.annotations.NullMarked;
