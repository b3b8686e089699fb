/**
 * What the keeper configured for a cabinet, checked and immutable.
 *
 * <p>Knows no file format: {@code app} reads the configuration file and makes these.
 */
@NullMarked
package io.evenwarm.agent.plan;

import org.jspecify.annotations.NullMarked;
