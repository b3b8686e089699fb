/**
 * Composition root: configuration and its checking, commands, start and stop order. The only
 * package that names concrete adapters.
 */
@NullMarked
package io.evenwarm.agent.app;

import org.jspecify.annotations.NullMarked;
