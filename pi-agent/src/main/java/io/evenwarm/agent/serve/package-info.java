/**
 * Sessions with monitors and with commands at the agent's own machine. Sees snapshots only.
 *
 * <p>Every queue is bounded; a slow or silent peer costs only its own session.
 */
@NullMarked
package io.evenwarm.agent.serve;

import org.jspecify.annotations.NullMarked;
