package io.evenwarm.agent.serve;

import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.LinkListener;
import io.evenwarm.message.Message;
import java.time.Duration;
import java.util.Optional;

/** A listener: each link that comes gets a session with a thread of its own. */
final class ListenerEndpoint extends Endpoint {

    /** While pairing is open anybody may come in: they must leave room for monitors. */
    private static final int MAX_STRANGERS = 2;

    private final ServeContext context;
    private final MonitorServer.ListenerOpener opener;
    private final int maxSessions;
    private volatile Optional<LinkListener> open = Optional.empty();

    ListenerEndpoint(
            ServeContext context,
            String name,
            MonitorServer.ListenerOpener opener,
            int maxSessions,
            Duration retry) {
        super(name, retry);
        this.context = context;
        this.opener = opener;
        this.maxSessions = maxSessions;
    }

    @Override
    void openAndServe() throws LinkException {
        try (LinkListener listener = opener.open()) {
            open = Optional.of(listener);
            opened("listening at " + listener.address());
            while (!isClosed()) {
                admit(listener.accept());
            }
        } finally {
            open = Optional.empty();
        }
    }

    private void admit(Link link) {
        if (sessionCount() >= maxSessions) {
            turnAway(
                    link,
                    "there are "
                            + maxSessions
                            + " sessions already: close a monitor that is not needed");
            return;
        }
        SessionRunner session =
                new SessionRunner(
                        context, link, Peer.at(link), true, Message.HistoryBatch.MAX_RECORDS);
        if (session.isStranger() && strangerCount() >= MAX_STRANGERS) {
            turnAway(link, "another monitor is being paired: try again after it");
            return;
        }
        reserve(session);
        Thread thread = new Thread(() -> runSession(session), "session " + link.peer());
        thread.setDaemon(true);
        thread.start();
    }

    private void turnAway(Link link, String words) {
        try (link) {
            link.send(new Message.Goodbye(words));
        } catch (LinkException e) {
            LOG.log(System.Logger.Level.DEBUG, "turned away, and gone: {0}", e.getMessage());
        }
    }

    @Override
    void closeOpening() {
        open.ifPresent(LinkListener::close);
    }
}
