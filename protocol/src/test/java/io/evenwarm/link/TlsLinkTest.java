package io.evenwarm.link;

import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.util.Set;
import org.jspecify.annotations.Nullable;

final class TlsLinkTest extends LinkContract {

    private static final Identity AGENT = Identity.create("agent");
    private static final Identity MONITOR = Identity.create("monitor");

    private @Nullable TlsListener listener;

    @Override
    Ends open() throws LinkException {
        TlsListener opened =
                TlsLinks.listen(
                        new InetSocketAddress(InetAddress.getLoopbackAddress(), 0),
                        AGENT,
                        Set.of(MONITOR.pin()));
        listener = opened;
        Link left =
                TlsLinks.connect(
                        new InetSocketAddress(InetAddress.getLoopbackAddress(), opened.port()),
                        MONITOR,
                        AGENT.pin(),
                        SOON);
        return new Ends(left, opened.accept());
    }

    @Override
    void kill(Ends openEnds) {
        openEnds.right().close();
    }

    @Override
    void cleanUp() {
        if (listener != null) {
            listener.close();
        }
    }
}
