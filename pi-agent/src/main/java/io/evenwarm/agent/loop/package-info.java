/**
 * One tick: drain commands, newest samples, check, state, guard, control, gate, output, publish.
 *
 * <p>Never waits for a bus, a disk, a link or a monitor.
 */
@NullMarked
package io.evenwarm.agent.loop;

import org.jspecify.annotations.NullMarked;
