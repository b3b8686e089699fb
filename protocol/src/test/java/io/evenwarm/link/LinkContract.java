package io.evenwarm.link;

import static java.nio.charset.StandardCharsets.US_ASCII;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.Message;
import java.io.IOException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/** What every kind of link must do. One subclass a kind says how two ends come about. */
@Timeout(60)
abstract class LinkContract {

    static final Duration SOON = Duration.ofSeconds(20);
    private static final Duration SHORT = Duration.ofMillis(50);

    private final ExecutorService other = Executors.newCachedThreadPool();
    private Ends ends;

    /** Two ends of one link. */
    record Ends(Link left, Link right) {}

    abstract Ends open() throws IOException;

    /** Ends the program at the right end, as a crash would: without a word to the left. */
    abstract void kill(Ends openEnds) throws IOException;

    /** Octets of {@link #kill}ing and of the medium that the ends stand on. */
    abstract void cleanUp() throws IOException;

    @BeforeEach
    void openEnds() throws IOException {
        ends = open();
    }

    @AfterEach
    void closeEnds() throws IOException {
        ends.left().close();
        ends.right().close();
        cleanUp();
        other.shutdownNow();
    }

    @Test
    void messagesArriveWholeAndInOrder() throws LinkException {
        for (int i = 0; i < 30; i++) {
            ends.left().send(new Message.Acknowledge(i));
        }
        for (int i = 0; i < 30; i++) {
            assertEquals(Optional.of(new Message.Acknowledge(i)), ends.right().receive(SOON));
        }
        assertEquals(0, ends.right().discardedFrames());
    }

    @Test
    void bothDirectionsRunAtOnce() throws Exception {
        int count = 300;
        Future<Void> leftSends = other.submit(() -> sendAll(ends.left(), count));
        Future<Void> rightSends = other.submit(() -> sendAll(ends.right(), count));
        Future<List<Message>> leftGets = other.submit(() -> receiveAll(ends.left(), count));
        List<Message> rightGot = receiveAll(ends.right(), count);
        List<Message> leftGot = get(leftGets);
        get(leftSends);
        get(rightSends);
        assertEquals(messages(count), rightGot);
        assertEquals(messages(count), leftGot);
    }

    @Test
    void theLongestMessagesPass() throws Exception {
        // Every octet of the payload but these few is stuffed, as the worst case is.
        Message longest = new Message.Goodbye("~}".repeat(32_600));
        Future<Void> sends =
                other.submit(
                        () -> {
                            for (int i = 0; i < 3; i++) {
                                ends.left().send(longest);
                            }
                            return null;
                        });
        for (int i = 0; i < 3; i++) {
            assertEquals(Optional.of(longest), ends.right().receive(SOON));
        }
        get(sends);
    }

    @Test
    void aMessageLongerThanAFrameIsRefusedAndTheLinkLivesOn() throws LinkException {
        Message tooLong = new Message.Goodbye("x".repeat(70_000));
        LinkException refusal = assertThrows(LinkException.class, () -> ends.left().send(tooLong));
        assertTrue(String.valueOf(refusal.getMessage()).contains("at most 65536"));
        ends.left().send(new Message.KeepAlive());
        assertEquals(Optional.of(new Message.KeepAlive()), ends.right().receive(SOON));
    }

    @Test
    void receiveComesBackEmptyWhenNothingCame() throws LinkException {
        assertEquals(Optional.empty(), ends.left().receive(SHORT));
        assertEquals(Optional.empty(), ends.left().receive(Duration.ofNanos(1)));
        ends.right().send(new Message.KeepAlive());
        assertEquals(Optional.of(new Message.KeepAlive()), ends.left().receive(SOON));
        assertThrows(IllegalArgumentException.class, () -> ends.left().receive(Duration.ZERO));
    }

    @Test
    void garbageBetweenFramesIsPassedOverAndCounted() throws LinkException {
        FramedLink left = (FramedLink) ends.left();
        left.send(new Message.Acknowledge(1));
        left.sendOctets("some noise, ~ then more of it".getBytes(US_ASCII));
        left.send(new Message.Acknowledge(2));
        // A whole frame around something that is no message.
        left.sendOctets(io.evenwarm.frame.FrameWriter.frame("no CBOR".getBytes(US_ASCII)));
        left.send(new Message.Acknowledge(3));
        for (int i = 1; i <= 3; i++) {
            assertEquals(Optional.of(new Message.Acknowledge(i)), ends.right().receive(SOON));
        }
        assertEquals(3, ends.right().discardedFrames());
    }

    @Test
    void closeFreesAThreadThatWaitsForAMessage() throws Exception {
        CountDownLatch started = new CountDownLatch(1);
        Future<LinkException> waits =
                other.submit(
                        () -> {
                            started.countDown();
                            return assertThrows(
                                    LinkException.class,
                                    () -> ends.left().receive(Duration.ofDays(400_000)));
                        });
        assertTrue(started.await(10, TimeUnit.SECONDS));
        assertThrows(TimeoutException.class, () -> waits.get(100, TimeUnit.MILLISECONDS));
        ends.left().close();
        assertTrue(words(get(waits)).contains("closed at this end"));
    }

    @Test
    void closeFreesAThreadThatSendsToSomebodyWhoDoesNotRead() throws Exception {
        Future<LinkException> sends = other.submit(() -> sendUntilItFails(ends.left()));
        assertThrows(TimeoutException.class, () -> sends.get(500, TimeUnit.MILLISECONDS));
        ends.left().close();
        assertFalse(words(get(sends)).isEmpty());
    }

    @Test
    void aClosedLinkSaysSo() {
        ends.left().close();
        ends.left().close();
        LinkException send =
                assertThrows(LinkException.class, () -> ends.left().send(new Message.KeepAlive()));
        LinkException receive = assertThrows(LinkException.class, () -> ends.left().receive(SOON));
        assertTrue(words(send).contains("closed at this end"), words(send));
        assertTrue(words(receive).contains("closed at this end"), words(receive));
    }

    @Test
    void whatWasSentBeforeTheOtherSideClosedStillArrives() throws Exception {
        ends.right().send(new Message.Acknowledge(1));
        ends.right().send(new Message.Goodbye("done"));
        ends.right().close();
        assertEquals(Optional.of(new Message.Acknowledge(1)), ends.left().receive(SOON));
        assertEquals(Optional.of(new Message.Goodbye("done")), ends.left().receive(SOON));
    }

    @Test
    void anOtherSideThatIsGoneEndsReceivingAndSending() throws Exception {
        ends.left().send(new Message.KeepAlive());
        assertTrue(ends.right().receive(SOON).isPresent());
        Future<LinkException> waits =
                other.submit(
                        () -> assertThrows(LinkException.class, () -> ends.left().receive(SOON)));
        kill(ends);
        assertFalse(words(get(waits)).isEmpty());
        assertFalse(words(get(other.submit(() -> sendUntilItFails(ends.left())))).isEmpty());
    }

    private static LinkException sendUntilItFails(Link link) {
        Message big = new Message.Goodbye("z".repeat(10_000));
        return assertThrows(
                LinkException.class,
                () -> {
                    while (true) {
                        link.send(big);
                    }
                });
    }

    private static Void sendAll(Link link, int count) throws LinkException {
        for (Message message : messages(count)) {
            link.send(message);
        }
        return null;
    }

    private static List<Message> receiveAll(Link link, int count) throws LinkException {
        List<Message> got = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            got.add(link.receive(SOON).orElseThrow());
        }
        return got;
    }

    private static List<Message> messages(int count) {
        List<Message> messages = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            messages.add(new Message.Goodbye(i + " ~}\u0011\u0013".repeat(i % 50)));
        }
        return messages;
    }

    static String words(LinkException e) {
        return String.valueOf(e.getMessage());
    }

    static <T> T get(Future<T> future)
            throws InterruptedException, ExecutionException, TimeoutException {
        return future.get(40, TimeUnit.SECONDS);
    }
}
