/**
 * Sensors on I²C and lines on GPIO through Pi4J, whose providers are named one by one, so that
 * nothing is ever answered by a mock. The only user of Pi4J.
 *
 * <p>Classes that import Pi4J are loaded only by a configuration that names such a sensor or line.
 */
@NullMarked
package io.evenwarm.agent.driver.pi4j;

import org.jspecify.annotations.NullMarked;
