/**
 * What the agent says when no monitor is there: retained state and a last will at an MQTT broker.
 *
 * <p>Sees snapshots only, on threads of its own; nothing that decides about heat waits for it or
 * knows it. The only place that knows the broker's client.
 */
@NullMarked
package io.evenwarm.agent.beacon;

import org.jspecify.annotations.NullMarked;
