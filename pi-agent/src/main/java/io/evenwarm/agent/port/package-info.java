/**
 * The seam between the agent and the world: probes, outputs, durable notes, and who hears of a
 * snapshot.
 *
 * <p>Interfaces and the values that cross them, nothing else. Adapters implement these in {@code
 * driver}, {@code plant} and {@code durable}; only {@code app} names them together.
 */
@NullMarked
package io.evenwarm.agent.port;

import org.jspecify.annotations.NullMarked;
