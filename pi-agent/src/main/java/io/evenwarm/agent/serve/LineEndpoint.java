package io.evenwarm.agent.serve;

import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import java.time.Duration;

/** A line with one other end, such as a serial one: one session after another. */
final class LineEndpoint extends Endpoint {

    /** A batch takes half a second at 115,200 baud: live snapshots must not wait long behind it. */
    static final int MAX_RECORDS = 16;

    /** A session that ends sooner tells of a broken line: opened again with a pause. */
    private static final long SHORT_NANOS = 5_000_000_000L;

    private final ServeContext context;
    private final MonitorServer.LineOpener opener;

    LineEndpoint(
            ServeContext context, String name, MonitorServer.LineOpener opener, Duration retry) {
        super(name, retry);
        this.context = context;
        this.opener = opener;
    }

    @Override
    void openAndServe() throws LinkException {
        long begin;
        do {
            begin = context.clock().nanos();
            Link link = opener.open();
            opened("waiting for a monitor at " + link.peer());
            SessionRunner session =
                    new SessionRunner(context, link, new Peer.Line(), false, MAX_RECORDS);
            reserve(session);
            runSession(session);
        } while (!isClosed() && context.clock().nanos() - begin > SHORT_NANOS);
    }

    /** Opening returns by itself; the session that follows is stopped like any other. */
    @Override
    void closeOpening() {}
}
