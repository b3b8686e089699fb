package io.evenwarm.agent.port;

/**
 * One probe as the control thread sees it: its newest sample, at once, whatever its bus is doing.
 */
public interface Probe {

    /**
     * The newest sample. Never blocks and never throws; its age tells whether the bus still works.
     */
    Sample newest();
}
