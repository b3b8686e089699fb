package io.evenwarm.link;

final class MemoryLinkTest extends LinkContract {

    @Override
    Ends open() {
        MemoryLinks.Pair pair = MemoryLinks.pair();
        return new Ends(pair.left(), pair.right());
    }

    @Override
    void kill(Ends openEnds) {
        openEnds.right().close();
    }

    @Override
    void cleanUp() {
        // Nothing but memory.
    }
}
