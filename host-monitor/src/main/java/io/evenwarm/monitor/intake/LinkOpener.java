package io.evenwarm.monitor.intake;

import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;

/** Opens a link to one agent. */
@FunctionalInterface
public interface LinkOpener {

    /**
     * Opens it, or gives up within about ten seconds.
     *
     * @throws LinkException when it can't be opened; the message is for a person
     */
    Link open() throws LinkException;
}
