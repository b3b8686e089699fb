package io.evenwarm.link;

/** Waits for other programs to connect. */
public interface LinkListener extends AutoCloseable {

    /**
     * Waits for the next link whose other end was allowed in.
     *
     * @throws LinkException when this listener is closed or lost
     */
    Link accept() throws LinkException;

    /** Where this listens, in words for a log or a person. */
    String address();

    @Override
    void close();
}
