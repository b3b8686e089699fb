/**
 * What is: each cabinet's newest snapshot, and whether it is still alive. Plain Java, no JavaFX.
 */
@NullMarked
package io.evenwarm.monitor.live;

import org.jspecify.annotations.NullMarked;
