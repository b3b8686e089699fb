package io.evenwarm.link;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.ClosedChannelException;
import java.nio.channels.SocketChannel;

/** A socket channel in blocking mode; closing it frees whoever waits in it. */
final class ChannelOctets implements Octets {

    private final SocketChannel channel;

    ChannelOctets(SocketChannel channel) {
        this.channel = channel;
    }

    @Override
    public int read(byte[] buffer) throws IOException {
        try {
            return channel.read(ByteBuffer.wrap(buffer));
        } catch (ClosedChannelException e) {
            return -1;
        }
    }

    @Override
    public void write(byte[] octets) throws IOException {
        ByteBuffer left = ByteBuffer.wrap(octets);
        while (left.hasRemaining()) {
            channel.write(left);
        }
    }

    @Override
    public void close() {
        Closing.quietly(channel);
    }
}
